package shapefile

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// shapes reads the .shp of a Shapefile from start to end (ESRI Shapefile Technical Description, July
// 1998).
type shapes struct {
	*format.Reading
	in   *bufio.Reader
	left int64 // bytes not read yet, by the length in the header
	at   int64 // bytes read so far
	room []byte

	index *shapeIndex // nil when there is no .shx
}

// header reads the 100-byte file header.
func (s *shapes) header() (orb.Bound, error) {
	var b [100]byte
	if _, err := io.ReadFull(s.in, b[:]); err != nil {
		return orb.Bound{}, s.cutShort(0, err)
	}
	s.at = 100
	s.left = 2*int64(binary.BigEndian.Uint32(b[24:])) - 100
	number := func(at int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b[at:])) }
	return orb.Bound{Min: orb.Point{number(36), number(44)}, Max: orb.Point{number(52), number(60)}}, nil
}

func (s *shapes) cutShort(record int, err error) error {
	if err != io.EOF && err != io.ErrUnexpectedEOF {
		return err
	}
	return s.Unusable(fmt.Sprintf("record %d", record), "the .shp ends early", "copy the files again")
}

// next reads the shape of the next record, and returns false at the end of the file. If untabled is
// true, there is a table but it has no such record.
func (s *shapes) next(record int, into *format.Shape, untabled bool) (bool, error) {
	if ended, err := s.follow(record, untabled); ended || err != nil {
		return false, err
	}
	var head [8]byte
	switch _, err := io.ReadFull(s.in, head[:]); {
	case err == io.EOF && s.left <= 0:
		return false, nil
	case err != nil:
		return false, s.cutShort(record, err)
	}
	size := 2 * int64(binary.BigEndian.Uint32(head[4:]))
	s.left -= 8 + size
	s.at += 8 + size
	// 24 bytes a vertex with height and measure, and 16 MiB for the part numbers
	if size < 4 || size > 32*int64(s.Limits.Vertices)+16<<20 {
		return false, s.Unusable(fmt.Sprintf("record %d", record), fmt.Sprintf("a shape of %d bytes is impossible or above the limit", size), "copy the files again, or raise limits.vertices")
	}
	if err := s.fill(int(size)); err != nil {
		return false, s.cutShort(record, err)
	}
	s.decode(into)
	return true, nil
}

// fill reads n bytes into the buffer, which grows only as bytes arrive.
func (s *shapes) fill(n int) error {
	s.room = s.room[:0]
	for len(s.room) < n {
		begin := len(s.room)
		s.room = append(s.room, make([]byte, min(n-begin, 1<<20))...)
		if _, err := io.ReadFull(s.in, s.room[begin:]); err != nil {
			return io.ErrUnexpectedEOF
		}
	}
	return nil
}

// decode turns the record in the buffer into a shape. Heights and measures are dropped.
func (s *shapes) decode(into *format.Shape) {
	kind := binary.LittleEndian.Uint32(s.room)
	b := s.room[4:]
	if kind > 30 {
		into.Is(format.OtherShape, "MultiPatch")
		return
	}
	ok := true
	switch kind % 10 {
	case shpNull:
	case shpPoint:
		into.Is(format.PointShape, "Point")
		ok = s.points(into, b, 1)
	case shpMultiPoint:
		into.Is(format.MultiPointShape, "MultiPoint")
		if ok = len(b) >= 36; ok {
			ok = s.points(into, b[36:], binary.LittleEndian.Uint32(b[32:]))
		}
	case shpLine, shpPolygon:
		ok = s.parts(into, b)
		if kind%10 == shpLine {
			into.Is(format.MultiLineShape, "PolyLine")
			if len(into.Parts) == 1 {
				into.Kind = format.LineShape
			}
		} else {
			into.Is(format.MultiPolygonShape, "Polygon")
			if ok {
				into.SortRings()
			}
		}
	default:
		into.Is(format.OtherShape, fmt.Sprintf("shape of kind %d", kind))
	}
	if !ok {
		into.Kind, into.Wrong = format.NoShape, "the shape's counts do not fit its length, or pass the limit of vertices"
	}
}

func (s *shapes) points(into *format.Shape, b []byte, n uint32) bool {
	if uint64(n)*16 > uint64(len(b)) || int64(n) > int64(s.Limits.Vertices) {
		return false
	}
	for i := range int(n) {
		x, y := binary.LittleEndian.Uint64(b[16*i:]), binary.LittleEndian.Uint64(b[16*i+8:])
		into.Points = append(into.Points, orb.Point{math.Float64frombits(x), math.Float64frombits(y)})
	}
	return true
}

// parts reads the lines or rings of a shape.
func (s *shapes) parts(into *format.Shape, b []byte) bool {
	if len(b) < 40 {
		return false
	}
	parts, points := binary.LittleEndian.Uint32(b[32:]), binary.LittleEndian.Uint32(b[36:])
	b = b[40:]
	if uint64(parts)*4 > uint64(len(b)) || !s.points(into, b[4*parts:], points) {
		return false
	}
	for i := range parts {
		end := points
		if i+1 < parts {
			end = binary.LittleEndian.Uint32(b[4*(i+1):])
		}
		begin := binary.LittleEndian.Uint32(b[4*i:])
		if begin > end || end > points || i == 0 && begin != 0 {
			return false
		}
		into.Parts = append(into.Parts, int(end))
	}
	return parts > 0 || points == 0
}

// The shape types. Types with heights or measures are read as the plain types.
const (
	shpNull       = 0
	shpPoint      = 1
	shpLine       = 3
	shpPolygon    = 5
	shpMultiPoint = 8
)
