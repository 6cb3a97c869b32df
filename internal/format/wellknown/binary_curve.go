package wellknown

import (
	"encoding/binary"
	"slices"

	geometry "driftreach/geo/shape"
	"driftreach/internal/format"
)

// The kinds of well-known binary with circular arcs (ISO 13249-3).
const (
	binaryLine         = 2
	binaryPolygon      = 3
	binaryCircular     = 8
	binaryCompound     = 9
	binaryCurvePolygon = 10
	binaryMultiCurve   = 11
	binaryMultiSurface = 12
)

// curve reads a geometry with arcs, which become lines of short chords.
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

// member reads a geometry within another, of one of the kinds.
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

// path reads a line, or pieces of one that follow each other.
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

// bend makes the positions from begin on, of which every second is passed by an
// arc, vertices of the arcs, and says what is wrong, if anything is.
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

// follow takes the first position from begin on out where it repeats the last of
// the piece before, and makes no part of its own.
func follow(s *format.Shape, begin int) {
	first := 0 // of the part
	if n := len(s.Parts); n > 0 {
		first = s.Parts[n-1]
	}
	if begin > first && begin < len(s.Points) && s.Points[begin] == s.Points[begin-1] {
		s.Points = slices.Delete(s.Points, begin, begin+1)
	}
}
