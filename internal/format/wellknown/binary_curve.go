package wellknown

import (
	"encoding/binary"
	"slices"

	geometry "driftreach/geo/shape"
	"driftreach/internal/format"
)

// The type numbers of geometries with circular arcs in well-known binary (ISO 13249-3).
const (
	binaryLine         = 2
	binaryPolygon      = 3
	binaryCircular     = 8
	binaryCompound     = 9
	binaryCurvePolygon = 10
	binaryMultiCurve   = 11
	binaryMultiSurface = 12
)

// curve reads a geometry with arcs and turns the arcs into short chords.
func (w *binaryReader) curve(s *format.Shape, order binary.ByteOrder, kind uint32, numbers int) {
	switch kind {
	case binaryCircular, binaryCompound:
		w.path(s, order, kind, numbers)
		s.EndPart()
	case binaryCurvePolygon:
		for range w.count(order, 9) {
			w.member(s, binaryLine, binaryCircular, binaryCompound)
			s.EndPart()
		}
		s.EndPolygon()
	case binaryMultiCurve:
		for range w.count(order, 9) {
			w.member(s, binaryLine, binaryCircular, binaryCompound)
			s.EndPart()
		}
	case binaryMultiSurface:
		for range w.count(order, 9) {
			w.member(s, binaryPolygon, binaryCurvePolygon)
		}
	}
}

// member reads a member geometry, which must be of one of the kinds.
func (w *binaryReader) member(s *format.Shape, kinds ...uint32) {
	order, kind, numbers := w.header()
	switch {
	case w.wrong != "":
	case !slices.Contains(kinds, kind):
		w.fail("a curve or surface holds another kind")
	case kind == binaryPolygon:
		w.body(s, order, kind, numbers)
	case kind == binaryCurvePolygon:
		w.curve(s, order, kind, numbers)
	default:
		w.path(s, order, kind, numbers)
	}
}

// path reads a line, or a compound curve of consecutive pieces.
func (w *binaryReader) path(s *format.Shape, order binary.ByteOrder, kind uint32, numbers int) {
	if kind == binaryCompound {
		for range w.count(order, 9) {
			begin := len(s.Points)
			w.member(s, binaryLine, binaryCircular)
			follow(s, begin)
		}
		return
	}
	begin := len(s.Points)
	w.positions(s, order, w.count(order, 8*numbers), numbers)
	if kind == binaryCircular {
		w.fail(bend(s, begin, w.limit))
	}
}

// bend replaces the positions from begin on, which are the control points of arcs (every second one
// lies on an arc), by the vertices of the arcs. It returns what is wrong, or blank.
func bend(s *format.Shape, begin, limit int) string {
	through := slices.Clone(s.Points[begin:])
	if len(through) == 0 {
		return ""
	}
	if len(through) < 3 || len(through)%2 == 0 {
		return "an arc has not three positions, or five, or seven"
	}
	s.Points = s.Points[:begin+1]
	for i := 0; i+2 < len(through); i += 2 {
		if s.Points = geometry.Arc(s.Points, through[i], through[i+1], through[i+2]); len(s.Points) > limit {
			return "the geometry has more vertices than limits.vertices allows"
		}
	}
	return ""
}

// follow joins a piece to the one before: it removes its first position if that repeats the last one of
// the piece before, and starts no new part.
func follow(s *format.Shape, begin int) {
	first := 0 // of the part
	if n := len(s.Parts); n > 0 {
		first = s.Parts[n-1]
	}
	if begin > first && begin < len(s.Points) && s.Points[begin] == s.Points[begin-1] {
		s.Points = slices.Delete(s.Points, begin, begin+1)
	}
}
