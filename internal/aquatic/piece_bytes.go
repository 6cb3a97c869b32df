package aquatic

import (
	"encoding/binary"
	"errors"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
)

// The bytes of a piece: the middle, the chord and the setback; the number of paths, of each its reach, the
// number of its vertices and these; then the areas of water.

// GobEncode returns the piece as bytes, to be stored between two runs of the same version.
func (p Piece) GobEncode() ([]byte, error) {
	room := 4 * 8
	for _, path := range p.Paths {
		room += 2*8 + geo.BytesOfPoint*len(path)
	}
	b := make([]byte, 0, room)
	for _, v := range [...]float64{p.Middle, float64(p.Chord), float64(p.Setback)} {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	b = binary.AppendUvarint(b, uint64(len(p.Paths)))
	for i, path := range p.Paths {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(float64(p.Reach[i])))
		b = binary.AppendUvarint(b, uint64(len(path)))
		for _, at := range path {
			b = geo.AppendPoint(b, at)
		}
	}
	if p.Water == nil {
		return b, nil
	}
	return shape.AppendPolygons(b, p.Water), nil
}

var errPieceCutOff = errors.New("a piece of the zone is cut off")

// GobDecode reads the bytes that GobEncode returned.
func (p *Piece) GobDecode(b []byte) error {
	if len(b) < 3*8 {
		return errPieceCutOff
	}
	number := func() float64 {
		v := math.Float64frombits(binary.LittleEndian.Uint64(b))
		b = b[8:]
		return v
	}
	count := func(size int) (int, bool) {
		v, n := binary.Uvarint(b)
		b = b[max(0, n):]
		return int(v), n > 0 && v <= uint64(len(b)/size)
	}
	*p = Piece{Middle: number(), Chord: geo.Meters(number()), Setback: geo.Meters(number())}
	paths, whole := count(8)
	if !whole {
		return errPieceCutOff
	}
	if paths > 0 {
		p.Paths, p.Reach = make([]orb.LineString, paths), make([]geo.Meters, paths)
	}
	for i := range p.Paths {
		if len(b) < 8 {
			return errPieceCutOff
		}
		p.Reach[i] = geo.Meters(number())
		vertices, whole := count(geo.BytesOfPoint)
		if !whole {
			return errPieceCutOff
		}
		path := make(orb.LineString, vertices)
		for k := range path {
			path[k], b = geo.PointOf(b), b[geo.BytesOfPoint:]
		}
		p.Paths[i] = path
	}
	if len(b) > 0 {
		p.Water = shape.PolygonsOf(b)
	}
	return nil
}
