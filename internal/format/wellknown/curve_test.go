package wellknown

import (
	"encoding/hex"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
)

// curves are geometries with arcs as text and, where GDAL 3.6.2 wrote it, as binary
// (ogr.CreateGeometryFromWkt(...).ExportToIsoWkb()).
var curves = []struct {
	name, text, binary string
	kind               format.ShapeKind
	parts, polygons    int
	length             float64 // of all lines or rings: of a circle, 2 pi r
}{
	{"half circle", "CIRCULARSTRING (0 0, 1 1, 2 0)", "0108000000030000000000000000000000" + "0000000000000000000000000000f03f000000000000f03f00000000000000400000000000000000", format.LineShape, 1, 0, math.Pi},
	{"two arcs with heights", "CIRCULARSTRING Z (0 0 5, 1 1 5, 2 0 5, 3 -1 5, 4 0 5)", "", format.LineShape, 1, 0, 2 * math.Pi},
	{"line and arc", "COMPOUNDCURVE ((-3 0, 0 0), CIRCULARSTRING (0 0, 1 1, 2 0), (2 0, 2 -4))", "", format.LineShape, 1, 0, 7 + math.Pi},
	{"circle", "CURVEPOLYGON (CIRCULARSTRING (5 7, 1 7, 5 7))", "", format.PolygonShape, 1, 1, 4 * math.Pi},
	{"square with a round hole", "CURVEPOLYGONZ ((0 0 1, 9 0 1, 9 9 1, 0 9 1, 0 0 1), COMPOUNDCURVE Z (CIRCULARSTRING Z (4 4 1, 5 5 1, 6 4 1), (6 4 1, 4 4 1)))", "", format.PolygonShape, 2, 1, 36 + math.Pi + 2},
	{"many lines", "MULTICURVE ((0 0, 5 0), CIRCULARSTRING (0 0, 1 1, 2 0), COMPOUNDCURVE ((0 0, 1 0)), EMPTY)", "", format.MultiLineShape, 4, 0, 5 + math.Pi + 1},
	{"many areas", "MULTISURFACE (((0 0, 1 0, 1 1, 0 1, 0 0)), CURVEPOLYGON (CIRCULARSTRING (5 7, 1 7, 5 7)))", "", format.MultiPolygonShape, 2, 2, 4 + 4*math.Pi},
	{"none", "CURVEPOLYGON EMPTY", "", format.PolygonShape, 0, 1, 0},
	{"ring", "LINEARRING (0 0, 1 0, 1 1, 0 0)", "", format.LineShape, 1, 0, 2 + math.Sqrt2},
}

// TestCurves: an arc becomes chords of a degree, by which it is 1/78 800 shorter.
func TestCurves(t *testing.T) {
	for _, test := range curves {
		for _, text := range []string{test.text, strings.ToLower(test.text), test.binary} {
			if text == "" {
				continue
			}
			var s format.Shape
			if !IsText([]byte(text)) {
				t.Errorf("%s is no geometry", text)
			}
			ReadText([]byte(text), &s, 10000)
			if s.Wrong != "" || s.Kind != test.kind || len(s.Parts) != test.parts || len(s.Polygons) != test.polygons {
				t.Errorf("%s: %q, %s with %d parts and %d polygons", test.name, s.Wrong, s.Name, len(s.Parts), len(s.Polygons))
				continue
			}
			length := 0.0
			for i := range s.Parts {
				p := s.Part(i)
				for k := 1; k < len(p); k++ {
					length += math.Hypot(p[k][0]-p[k-1][0], p[k][1]-p[k-1][1])
				}
			}
			if math.Abs(length-test.length) > test.length/70000 {
				t.Errorf("%s: length %v, not %v", test.name, length, test.length)
			}
		}
	}
}

// TestCurvesInBinary packs a surface of each kind by hand: the same as its text.
func TestCurvesInBinary(t *testing.T) {
	head := func(kind, n byte) string { return "01" + hex.EncodeToString([]byte{kind, 0, 0, 0, n, 0, 0, 0}) }
	one, two, zero := "000000000000f03f", "0000000000000040", "0000000000000000"
	arc := head(8, 3) + zero + zero + one + one + two + zero
	chord := head(2, 2) + two + zero + zero + zero
	square := head(3, 1) + "04000000" + zero + zero + two + zero + two + two + zero + zero
	for text, binary := range map[string]string{
		"COMPOUNDCURVE (CIRCULARSTRING (0 0, 1 1, 2 0), (2 0, 0 0))":                                                       head(9, 2) + arc + chord,
		"CURVEPOLYGON (COMPOUNDCURVE (CIRCULARSTRING (0 0, 1 1, 2 0), (2 0, 0 0)))":                                        head(10, 1) + head(9, 2) + arc + chord,
		"MULTICURVE (CIRCULARSTRING (0 0, 1 1, 2 0), (2 0, 0 0))":                                                          head(11, 2) + arc + chord,
		"MULTISURFACE (((0 0, 2 0, 2 2, 0 0)), CURVEPOLYGON (COMPOUNDCURVE (CIRCULARSTRING (0 0, 1 1, 2 0), (2 0, 0 0))))": head(12, 2) + square + head(10, 1) + head(9, 2) + arc + chord,
	} {
		var a, b format.Shape
		ReadText([]byte(text), &a, 10000)
		ReadText([]byte(binary), &b, 10000)
		if diff := cmp.Diff(a, b, cmp.AllowUnexported(format.Shape{})); diff != "" {
			t.Errorf("%s (-text +binary):\n%s", text, diff)
		}
	}
}

// TestCurvesThatAreNone: each is refused with a message.
func TestCurvesThatAreNone(t *testing.T) {
	for text, want := range map[string]string{
		"CIRCULARSTRING (0 0, 1 1)":                              "three positions",
		"CIRCULARSTRING (0 0, 1 1, 2 0, 3 3)":                    "three positions",
		"CIRCULARSTRING 0 0":                                     "a bracket should be here",
		"CIRCULARSTRING (0 0, 1 1, 2 0":                          "a bracket is not closed",
		"CIRCULARSTRING (0 0, 1 1, 2 0) 7":                       "text follows",
		"COMPOUNDCURVE (COMPOUNDCURVE ((0 0, 1 1)))":             "cannot be a piece",
		"COMPOUNDCURVE (POINT (0 0))":                            "a curve cannot be POINT",
		"MULTISURFACE (CIRCULARSTRING (0 0, 1 1, 2 0))":          "a surface cannot be CIRCULARSTRING",
		"CURVEPOLYGON (((0 0, 1 1, 1 0, 0 0)))":                  "a position is two to four numbers",
		"CIRCULARSTRING (0 0, 1e-300 1, 2 0, 3 1e300, 4 0, 5 5)": "three positions",
		"0108000000020000000000000000000000" + "0000000000000000000000000000f03f000000000000f03f": "three positions",
		"010b00000001000000" + "010100000000000000000000000000000000000000":                       "another kind",
	} {
		var s format.Shape
		ReadText([]byte(text), &s, 10000)
		if !strings.Contains(s.Wrong, want) {
			t.Errorf("%s: %q, not %q", text, s.Wrong, want)
		}
	}
	for _, text := range []string{"TIN (((0 0, 0 1, 1 1, 0 0)))", "TRIANGLE Z ((0 0 0, 0 1 0, 1 1 0, 0 0 0))", "POLYHEDRALSURFACEZ EMPTY"} {
		var s format.Shape
		if ReadText([]byte(text), &s, 1000); !IsText([]byte(text)) || s.Kind != format.OtherShape {
			t.Errorf("%s is read as %v", text, s.Kind)
		}
	}
	var s format.Shape
	ReadText([]byte("CIRCULARSTRING (0 0, 1 1, 0 0, 1 1, 0 0, 1 1, 0 0)"), &s, 500)
	if !strings.Contains(s.Wrong, "limit") {
		t.Errorf("three circles: %q, %d positions", s.Wrong, len(s.Points))
	}
}
