// Package wellknown reads geometries as well-known text and well-known binary, including circular arcs.
package wellknown

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// textReader reads well-known text (OGC 06-103r4, section 7), with the "SRID=n;" that PostGIS may write
// before it.
type textReader struct {
	text  []byte // ends with a 0 byte
	at    int
	wrong string
	limit int // of vertices
}

// kinds are the geometry kinds by keyword.
var kinds = map[string]struct {
	kind  format.ShapeKind
	name  string
	depth int // brackets around a position
}{
	"POINT": {format.PointShape, "Point", 1}, "LINESTRING": {format.LineShape, "LineString", 1}, "POLYGON": {format.PolygonShape, "Polygon", 2},
	"MULTIPOINT": {format.MultiPointShape, "MultiPoint", 1}, "MULTILINESTRING": {format.MultiLineShape, "MultiLineString", 2}, "MULTIPOLYGON": {format.MultiPolygonShape, "MultiPolygon", 3},
	"LINEARRING": {format.LineShape, "LinearRing", 1},
}

// ColumnNames are the usual names of geometry columns [C] in spatial databases and in programs that
// write layers as CSV.
var ColumnNames = []string{"wkt", "wkt_geom", "wkt_geometry", "geometry_wkt", "_wkt_", "the_geom", "geom", "geometry", "shape", "wkb_geometry", "footprintwkt"}

// IsText says whether a cell is a geometry as well-known text or as hexadecimal well-known binary.
func IsText(text []byte) bool {
	if k := bytes.IndexByte(text, ';'); k > 0 && bytes.EqualFold(text[:min(5, k)], []byte("SRID=")) {
		text = bytes.TrimSpace(text[k+1:])
	}
	word := 0
	for word < len(text) && text[word]|0x20 >= 'a' && text[word]|0x20 <= 'z' {
		word++
	}
	upper := flat(string(bytes.ToUpper(text[:word])))
	if _, known := kinds[upper]; known {
		return true
	}
	if _, curved := curveWords[upper]; curved || slices.Contains(others, upper) {
		return true
	}
	return isHexadecimal(text)
}

// others are the keywords of geometries that are not supported.
var others = []string{"GEOMETRYCOLLECTION", "TIN", "TRIANGLE", "POLYHEDRALSURFACE"}

// flat removes a Z or M that is written onto a keyword, as in POINTZ.
func flat(word string) string {
	for _, mark := range []string{"ZM", "Z", "M"} {
		if kind, marked := strings.CutSuffix(word, mark); marked {
			_, known := kinds[kind]
			_, curved := curveWords[kind]
			if known || curved || slices.Contains(others, kind) {
				return kind
			}
		}
	}
	return word
}

// isHexadecimal says whether a text can be hexadecimal binary long enough for a point.
func isHexadecimal(text []byte) bool {
	if len(text) < 42 || len(text)%2 != 0 || text[0] != '0' || text[1] != '0' && text[1] != '1' {
		return false
	}
	_, err := hex.AppendDecode(nil, text)
	return err == nil
}

// ReadText fills the shape from a cell. srid is the reference system that the cell names, else 0.
func ReadText(text []byte, s *format.Shape, limit int) (srid int) {
	s.Reset()
	if isHexadecimal(text) {
		b, _ := hex.AppendDecode(nil, text) // IsText has checked the digits
		return ReadBinary(b, s, limit)
	}
	if k := bytes.IndexByte(text, ';'); k > 5 && bytes.EqualFold(text[:5], []byte("SRID=")) {
		srid, _ = strconv.Atoi(string(bytes.TrimSpace(text[5:k])))
		text = text[k+1:]
	}
	w := textReader{text: append(bytes.Clone(text), 0), limit: limit}
	w.read(s)
	if w.wrong != "" {
		s.Reset()
		s.Wrong = w.wrong
	}
	return srid
}

func (w *textReader) fail(found string) {
	if w.wrong == "" {
		w.wrong = fmt.Sprintf("character %d of the geometry: %s", w.at+1, found)
	}
}

func (w *textReader) peek() byte {
	for w.text[w.at] != 0 && w.text[w.at] <= ' ' {
		w.at++
	}
	return w.text[w.at]
}

// word reads a run of letters, in capitals.
func (w *textReader) word() string {
	w.peek()
	begin := w.at
	for b := w.text[w.at] | 0x20; b >= 'a' && b <= 'z'; b = w.text[w.at] | 0x20 {
		w.at++
	}
	return string(bytes.ToUpper(w.text[begin:w.at]))
}

func (w *textReader) read(s *format.Shape) {
	word := flat(w.word())
	if number, curved := curveWords[word]; curved {
		s.Is(names[number].kind, names[number].name)
		w.mark()
		w.curve(s, word)
		w.end()
		return
	}
	what, known := kinds[word]
	if !known {
		s.Is(format.OtherShape, word)
		return
	}
	s.Is(what.kind, what.name)
	w.mark()
	if w.empty() {
		return
	}
	w.brackets(s, what.depth, what.kind)
	switch what.kind {
	case format.PointShape, format.MultiPointShape:
		s.Parts = s.Parts[:0]
	case format.PolygonShape:
		s.Polygons = append(s.Polygons[:0], len(s.Parts))
	}
	w.end()
}

// mark skips the next word if it is Z, M or ZM.
func (w *textReader) mark() {
	before := w.at
	if next := w.word(); next != "Z" && next != "M" && next != "ZM" {
		w.at = before
	}
}

// end refuses text after the geometry.
func (w *textReader) end() {
	if w.wrong == "" && w.peek() != 0 {
		w.fail("text follows")
	}
}

// brackets reads a bracketed list: of positions at depth 1, of lists at greater depths.
func (w *textReader) brackets(s *format.Shape, depth int, kind format.ShapeKind) {
	if w.peek() != '(' {
		w.fail("a bracket should be here")
		return
	}
	w.at++
	for {
		switch {
		case w.empty():
		case depth > 1:
			w.brackets(s, depth-1, kind)
		case kind == format.MultiPointShape && w.peek() == '(':
			w.at++
			w.position(s)
			w.close()
		default:
			w.position(s)
		}
		if w.wrong != "" {
			return
		}
		if w.peek() != ',' {
			break
		}
		w.at++
	}
	w.close()
	switch depth {
	case 1:
		s.EndPart()
	case 2:
		s.EndPolygon()
	}
}

// empty skips the word EMPTY, if it is next.
func (w *textReader) empty() bool {
	before := w.at
	if w.word() == "EMPTY" {
		return true
	}
	w.at = before
	return false
}

func (w *textReader) close() {
	if w.peek() != ')' {
		w.fail("a bracket is not closed")
		return
	}
	w.at++
}

func (w *textReader) position(s *format.Shape) {
	var p orb.Point
	n := 0
	for ; n < 5; n++ {
		w.peek()
		v, next, ok := format.ScanNumber(w.text, w.at)
		if !ok {
			break
		}
		if n < 2 {
			p[n] = v
		}
		w.at = next
	}
	if n < 2 || n > 4 {
		w.fail("a position is two to four numbers")
	}
	if len(s.Points) >= w.limit {
		w.fail("there are more vertices than limits.vertices allows")
		return
	}
	s.Add(p)
}
