package shape

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"
)

// BytesOfPoint is the number of bytes of a point.
const BytesOfPoint = 16

// AppendPoint adds a point to b, to the last bit.
func AppendPoint(b []byte, p orb.Point) []byte {
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[0]))
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(p[1]))
}

// PointOf returns the point that AppendPoint wrote at the beginning of b.
func PointOf(b []byte) orb.Point {
	return orb.Point{math.Float64frombits(binary.LittleEndian.Uint64(b)), math.Float64frombits(binary.LittleEndian.Uint64(b[8:]))}
}

// AppendPolygons adds polygons to b: the number of polygons, of rings and of vertices, and the vertices.
func AppendPolygons(b []byte, mp orb.MultiPolygon) []byte {
	b = binary.AppendUvarint(b, uint64(len(mp)))
	for _, polygon := range mp {
		b = binary.AppendUvarint(b, uint64(len(polygon)))
		for _, ring := range polygon {
			b = binary.AppendUvarint(b, uint64(len(ring)))
			for _, p := range ring {
				b = AppendPoint(b, p)
			}
		}
	}
	return b
}

// PolygonsOf returns the polygons that AppendPolygons wrote.
func PolygonsOf(b []byte) orb.MultiPolygon {
	count := func() int {
		v, n := binary.Uvarint(b)
		b = b[n:]
		return int(v)
	}
	mp := make(orb.MultiPolygon, count())
	for i := range mp {
		mp[i] = make(orb.Polygon, count())
		for k := range mp[i] {
			ring := make(orb.Ring, count())
			for v := range ring {
				ring[v], b = PointOf(b), b[BytesOfPoint:]
			}
			mp[i][k] = ring
		}
	}
	return mp
}
