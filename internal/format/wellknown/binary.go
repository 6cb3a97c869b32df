package wellknown

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// ReadBinary fills the shape from well-known binary with at most limit vertices. It returns the SRID if
// the binary names one, else 0.
func ReadBinary(b []byte, s *format.Shape, limit int) (srid int) {
	w := binaryReader{bytes: b, limit: limit}
	w.read(s)
	return int(w.srid)
}

// binaryReader reads well-known binary (OGC 06-103r4, section 8), with the flags for height and SRID
// that PostGIS adds.
type binaryReader struct {
	bytes []byte
	at    int
	wrong string
	limit int // of vertices
	srid  uint32
}

// names are the geometry kinds by type number.
var names = map[uint32]struct {
	kind format.ShapeKind
	name string
}{
	1: {format.PointShape, "Point"}, 2: {format.LineShape, "LineString"}, 3: {format.PolygonShape, "Polygon"},
	4: {format.MultiPointShape, "MultiPoint"}, 5: {format.MultiLineShape, "MultiLineString"}, 6: {format.MultiPolygonShape, "MultiPolygon"},
	binaryCircular: {format.LineShape, "CircularString"}, binaryCompound: {format.LineShape, "CompoundCurve"}, binaryCurvePolygon: {format.PolygonShape, "CurvePolygon"},
	binaryMultiCurve: {format.MultiLineShape, "MultiCurve"}, binaryMultiSurface: {format.MultiPolygonShape, "MultiSurface"},
}

func (w *binaryReader) fail(found string) {
	if w.wrong == "" { // only the first error is reported
		w.wrong = found
	}
}

// take returns the next n bytes, or nil when there are fewer.
func (w *binaryReader) take(n int) []byte {
	if n < 0 || len(w.bytes)-w.at < n {
		w.fail("the geometry ends early")
		return nil
	}
	w.at += n
	return w.bytes[w.at-n : w.at]
}

// header reads the byte order, the kind and the number of coordinates of a position.
func (w *binaryReader) header() (order binary.ByteOrder, kind uint32, numbers int) {
	mark := w.take(5)
	if mark == nil {
		return nil, 0, 0
	}
	order = binary.ByteOrder(binary.LittleEndian)
	if mark[0] == 0 {
		order = binary.BigEndian
	} else if mark[0] != 1 {
		w.fail("the geometry is no well-known binary")
		return order, 0, 0
	}
	kind, numbers = order.Uint32(mark[1:]), 2
	for _, flag := range []uint32{0x80000000, 0x40000000} {
		if kind&flag != 0 {
			numbers++
		}
	}
	if kind&0x20000000 != 0 {
		if b := w.take(4); b != nil {
			w.srid = order.Uint32(b)
		}
	}
	kind &= 0x1fffffff
	switch kind / 1000 {
	case 1, 2:
		numbers++
	case 3:
		numbers += 2
	}
	return order, kind % 1000, numbers
}

// read fills the shape with the geometry. An error is set in w.wrong.
func (w *binaryReader) read(s *format.Shape) {
	s.Reset()
	order, kind, numbers := w.header()
	what, known := names[kind]
	switch {
	case w.wrong != "":
	case !known:
		s.Is(format.OtherShape, binaryName(kind))
		return
	case kind >= binaryCircular:
		w.curve(s, order, kind, numbers)
	case kind >= 4:
		w.many(s, order, kind-3)
		if what.kind == format.MultiPointShape {
			s.Parts = s.Parts[:0]
		}
	default:
		w.body(s, order, kind, numbers)
	}
	s.Is(what.kind, what.name)
	if w.wrong != "" {
		s.Reset()
		s.Wrong = w.wrong
	}
}

func binaryName(kind uint32) string {
	switch kind {
	case 7:
		return "GeometryCollection"
	case 13, 14:
		return "curve or surface of no kind"
	case 15, 16, 17:
		return "surface of triangles or patches"
	}
	return "geometry of an unknown kind"
}

// many reads the members of a multi geometry.
func (w *binaryReader) many(s *format.Shape, order binary.ByteOrder, single uint32) {
	for range w.count(order, 5) {
		inner, kind, numbers := w.header()
		if w.wrong == "" && kind != single {
			w.fail("a multi geometry holds another kind")
		}
		if w.wrong != "" {
			return
		}
		w.body(s, inner, kind, numbers)
	}
}

// count reads the number of items that follow, each of at least size bytes.
func (w *binaryReader) count(order binary.ByteOrder, size int) int {
	b := w.take(4)
	if b == nil {
		return 0
	}
	n := order.Uint32(b)
	if uint64(n)*uint64(size) > uint64(len(w.bytes)-w.at) {
		w.fail("the geometry ends early")
		return 0
	}
	return int(n)
}

// body reads a point, line or polygon after its header.
func (w *binaryReader) body(s *format.Shape, order binary.ByteOrder, kind uint32, numbers int) {
	switch kind {
	case 1:
		if w.positions(s, order, 1, numbers); len(s.Points) > 0 {
			if p := s.Points[len(s.Points)-1]; math.IsNaN(p[0]) && math.IsNaN(p[1]) { // an empty point
				s.Points = s.Points[:len(s.Points)-1]
			}
		}
	case 2:
		w.positions(s, order, w.count(order, 8*numbers), numbers)
		s.EndPart()
	case 3:
		for range w.count(order, 4) {
			w.positions(s, order, w.count(order, 8*numbers), numbers)
			s.EndPart()
		}
		s.EndPolygon()
	}
}

func (w *binaryReader) positions(s *format.Shape, order binary.ByteOrder, n, numbers int) {
	if len(s.Points)+n > w.limit {
		w.fail("the geometry has more vertices than limits.vertices allows")
		return
	}
	b := w.take(8 * numbers * n)
	for i := 0; i < len(b); i += 8 * numbers {
		s.Points = append(s.Points, orb.Point{
			math.Float64frombits(order.Uint64(b[i:])), math.Float64frombits(order.Uint64(b[i+8:])),
		})
	}
}
