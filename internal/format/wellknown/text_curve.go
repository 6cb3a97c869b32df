package wellknown

import "driftreach/internal/format"

// curveWords are the keywords of geometries with circular arcs, with their type numbers in well-known
// binary.
var curveWords = map[string]uint32{
	"CIRCULARSTRING": binaryCircular, "COMPOUNDCURVE": binaryCompound, "CURVEPOLYGON": binaryCurvePolygon, "MULTICURVE": binaryMultiCurve, "MULTISURFACE": binaryMultiSurface,
}

// curve reads a geometry with arcs after its keyword, as binaryReader does.
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

// kind reads the keyword of a member, blank for none, and its Z or M.
func (w *textReader) kind() string {
	if w.empty() {
		w.at -= len("EMPTY") // left for list to read
		return ""
	}
	word := flat(w.word())
	w.mark()
	return word
}

// list reads members in brackets, separated by commas, or the word EMPTY.
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

// path reads a line, or a compound curve of consecutive pieces.
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
