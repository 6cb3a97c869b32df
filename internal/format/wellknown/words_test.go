package wellknown

import (
	"testing"

	"driftreach/internal/format"
)

// TestGeometryWords: the keywords of OGC 06-103r4, 7.2, and of ISO 13249-3 for curves, with Z, M and ZM
// behind them, apart or not; words that only look like one are no geometry.
func TestGeometryWords(t *testing.T) {
	for _, word := range []string{"POINT", "LINESTRING", "POLYGON", "MULTIPOINT", "MULTILINESTRING", "MULTIPOLYGON", "LINEARRING", "CIRCULARSTRING", "COMPOUNDCURVE", "CURVEPOLYGON", "MULTICURVE", "MULTISURFACE",
		"GEOMETRYCOLLECTION", "TIN", "TRIANGLE", "POLYHEDRALSURFACE"} {
		for _, form := range []string{word, word + " (", word + "Z(", word + "M EMPTY", word + "ZM", word + " ZM (", "SRID=4326;" + word, "srid=4326; " + word} {
			if !IsText([]byte(form)) {
				t.Errorf("%s is no geometry", form)
			}
		}
	}
	for _, text := range []string{"", "POINTS", "POINTX", "POINTZZ", "PINT (1 2)", "point_1", "Z", "ZM", "1 2", "SRID=4326", "CRS=4326;POINT", ";POINT", "SRID;POINT", "-POINT", "reed", "TINY"} {
		if is := text == "point_1"; IsText([]byte(text)) != is { // a word ends at the first other sign
			t.Errorf("%s is a geometry: %v", text, !is)
		}
	}
}

// TestTextKinds: every kind as text, with its parts and polygons; by hand.
func TestTextKinds(t *testing.T) {
	for text, want := range map[string]string{
		"POINT (1 2)": "Point 1,2", "POINT ZM (1 2 3 4)": "Point 1,2", "POINT M(-1.5 2e1 3)": "Point -1.5,20", " \tPOINT\n( 1  2 ) ": "Point 1,2", "POINT EMPTY": "Point", "POINT Z EMPTY": "Point",
		"MULTIPOINT (1 2, (3 4), EMPTY)": "MultiPoint 1,2 3,4", "LINESTRING (1 2, 3 4)": "LineString 1,2 3,4|", "LINEARRING (1 2, 3 4)": "LinearRing 1,2 3,4|",
		"MULTILINESTRING ((1 2, 3 4), EMPTY, (5 6, 7 8))": "MultiLineString 1,2 3,4| 5,6 7,8|", "POLYGON ((0 0, 4 0, 0 0), (1 1, 2 1, 1 1))": "Polygon 0,0 4,0 0,0| 1,1 2,1 1,1||",
		"MULTIPOLYGON (((0 0, 4 0, 0 0), (1 1, 2 1, 1 1)), EMPTY, ((5 5, 6 5, 5 5)))": "MultiPolygon 0,0 4,0 0,0| 1,1 2,1 1,1|| 5,5 6,5 5,5||",
		"COMPOUNDCURVE ((1 2, 3 4), (3 4, 5 6), LINESTRING (7 8, 9 9))":               "CompoundCurve 1,2 3,4 5,6 7,8 9,9|", "COMPOUNDCURVE EMPTY": "CompoundCurve", "CIRCULARSTRING EMPTY": "CircularString",
		"MULTICURVE ((1 2, 3 4), COMPOUNDCURVE Z ((3 4 0, 5 6 0)))": "MultiCurve 1,2 3,4| 3,4 5,6|", "CURVEPOLYGON ((0 0, 4 0, 0 0), COMPOUNDCURVE ((1 1, 2 1), (2 1, 1 1)))": "CurvePolygon 0,0 4,0 0,0| 1,1 2,1 1,1||",
		"MULTISURFACE (((0 0, 4 0, 0 0)), CURVEPOLYGON ((1 1, 2 1, 1 1)), POLYGON ((3 3, 4 3, 3 3)))": "MultiSurface 0,0 4,0 0,0|| 1,1 2,1 1,1|| 3,3 4,3 3,3||", "MULTISURFACE EMPTY": "MultiSurface",
		"GEOMETRYCOLLECTION (POINT (1 2))": "GEOMETRYCOLLECTION", "TRIANGLE ((0 0, 1 0, 0 1, 0 0))": "TRIANGLE",
		// what is wrong, and at which character
		"POINT 1 2": "!character 7 of the geometry: a bracket should be here", "POINT (1 2": "!character 11 of the geometry: a bracket is not closed", "POINT (1 2) 3": "!character 13 of the geometry: text follows",
		"POINT (1)": "!character 9 of the geometry: a position is two to four numbers", "POINT (1 2 3 4 5)": "!character 17 of the geometry: a position is two to four numbers", "POINT (a b)": "!character 8 of the geometry: a position is two to four numbers",
		"MULTIPOINT ((1 2)": "!character 18 of the geometry: a bracket is not closed", "MULTIPOINT ((1 2": "!character 17 of the geometry: a bracket is not closed", "POLYGON (1 2)": "!character 10 of the geometry: a bracket should be here",
		"LINESTRING (1 2, 3 4, 5 6, 7 8, 9 9)": "!character 36 of the geometry: there are more vertices than limits.vertices allows", "MULTISURFACE (LINESTRING (1 2, 3 4))": "!character 25 of the geometry: a surface cannot be LINESTRING",
		"MULTICURVE (POINT (1 2))": "!character 18 of the geometry: a curve cannot be POINT", "COMPOUNDCURVE (COMPOUNDCURVE ((1 2, 3 4)))": "!character 29 of the geometry: a curve of pieces cannot be a piece",
		"CIRCULARSTRING (1 2, 3 4)": "!character 26 of the geometry: an arc has not three positions, or five, or seven", "CIRCULARSTRING 1": "!character 16 of the geometry: a bracket should be here", "MULTICURVE ((1 2, 3 4)": "!character 23 of the geometry: a bracket is not closed",
	} {
		var s format.Shape
		limit := 100
		if want[0] == '!' {
			limit = 4
		}
		if ReadText([]byte(text), &s, limit); described(&s) != want || s.Wrong != "" && s.Kind != format.NoShape {
			t.Errorf("%s: %s, want %s", text, described(&s), want)
		}
	}
	var s format.Shape
	if ReadText([]byte("LINESTRING (1 2, 3 4, 5 6, 7 8)"), &s, 4); s.Wrong != "" {
		t.Errorf("four positions where four are allowed: %s", s.Wrong)
	}
	for text, want := range map[string]int{"SRID=26911;POINT(1 2)": 26911, "srid= 7 ;POINT(1 2)": 7, "SRID=x;POINT(1 2)": 0, "POINT(1 2)": 0} {
		if got := ReadText([]byte(text), &s, 9); got != want || described(&s) != "Point 1,2" {
			t.Errorf("%s: %d, %s", text, got, described(&s))
		}
	}
}
