package wellknown

import "driftreach/internal/format"

// curveWords are the words of geometries with circular arcs, by their
// numbers in well-known binary.
var curveWords = map[string]uint32{
	"CIRCULARSTRING": binaryCircular, "COMPOUNDCURVE": binaryCompound, "CURVEPOLYGON": binaryCurvePolygon, "MULTICURVE": binaryMultiCurve, "MULTISURFACE": binaryMultiSurface,
}

// curve reads a geometry with arcs after its word, as binaryReader does.
func (w *textReader) curve(s *format.Shape, word string) {
	switch word {
	case "CIRCULARSTRING", "COMPOUNDCURVE":
		w.path(s, word)
		s.EndPart()
	case "CURVEPOLYGON":
		w.surface(s, word)
	case "MULTICURVE":
		w.list(func() {
			w.path(s, w.kind())
			s.EndPart()
		})
	case "MULTISURFACE":
		w.list(func() { w.surface(s, w.kind()) })
	}
}

// kind reads the word before a member, blank for none, and its mark of heights or measures.
func (w *textReader) kind() string {
	if w.empty() {
		w.at -= len("EMPTY") // list reads it
		return ""
	}
	word := flat(w.word())
	w.mark()
	return word
}

// list reads members in brackets, with commas between them, or the word for none.
func (w *textReader) list(member func()) {
	if w.empty() {
		return
	}
	if w.peek() != '(' {
		w.fail("a bracket should be here")
		return
	}
	for w.at++; w.wrong == ""; w.at++ {
		if member(); w.peek() != ',' {
			break
		}
	}
	if w.wrong == "" {
		w.close()
	}
}

// surface reads a polygon whose rings may have arcs.
func (w *textReader) surface(s *format.Shape, word string) {
	if word != "" && word != "POLYGON" && word != "CURVEPOLYGON" {
		w.fail("a surface cannot be " + format.Shorten(word))
		return
	}
	w.list(func() {
		w.path(s, w.kind())
		s.EndPart()
	})
	s.EndPolygon()
}

// path reads a line, or pieces of one that follow each other.
func (w *textReader) path(s *format.Shape, word string) {
	begin := len(s.Points)
	switch word {
	case "", "LINESTRING":
		w.list(func() { w.position(s) })
	case "CIRCULARSTRING":
		w.list(func() { w.position(s) })
		if found := bend(s, begin, w.limit); found != "" && w.wrong == "" {
			w.fail(found)
		}
	case "COMPOUNDCURVE":
		w.list(func() {
			begin := len(s.Points)
			piece := w.kind()
			if piece == "COMPOUNDCURVE" {
				w.fail("a curve of pieces cannot be a piece")
				return
			}
			w.path(s, piece)
			follow(s, begin)
		})
	default:
		w.fail("a curve cannot be " + format.Shorten(word))
	}
}
