package wellknown

import (
	"testing"

	"driftreach/internal/format"
)

// TestGeometryText reads each kind; by hand.
func TestGeometryText(t *testing.T) {
	for _, c := range []struct {
		text   string
		kind   format.ShapeKind
		points int
		parts  int
		srid   int
		wrong  bool
	}{
		{"POINT(1 2)", format.PointShape, 1, 0, 0, false}, {"point z (1 2 3)", format.PointShape, 1, 0, 0, false}, {"SRID=26911;POINT(5e5 4e6)", format.PointShape, 1, 0, 26911, false},
		{"LINESTRING (1 2, 3 4,5 6)", format.LineShape, 3, 1, 0, false}, {"MULTILINESTRING((1 2,3 4),(5 6,7 8))", format.MultiLineShape, 4, 2, 0, false},
		{"POLYGON((0 0,1 0,1 1,0 0),(0.1 0.1,0.2 0.1,0.2 0.2,0.1 0.1))", format.PolygonShape, 8, 2, 0, false}, {"MULTIPOINT((1 2),(3 4))", format.MultiPointShape, 2, 0, 0, false}, {"MULTIPOINT(1 2,3 4)", format.MultiPointShape, 2, 0, 0, false},
		{"POINT EMPTY", format.PointShape, 0, 0, 0, false}, {"GEOMETRYCOLLECTION(POINT(1 2))", format.OtherShape, 0, 0, 0, false},
		{"0101000000000000000000f03f0000000000000040", format.PointShape, 1, 0, 0, false}, {"0101000020E6100000000000000000f03f0000000000000040", format.PointShape, 1, 0, 4326, false},
		{"POINTZ(1 2 3)", format.PointShape, 1, 0, 0, false}, {"linestringzm(1 2 3 4,5 6 7 8)", format.LineShape, 2, 1, 0, false}, {"MULTIPOINT(EMPTY,(1 2))", format.MultiPointShape, 1, 0, 0, false}, {"MULTILINESTRING(EMPTY,(1 2,3 4))", format.MultiLineShape, 2, 1, 0, false},
		{"POINT(x y)", format.NoShape, 0, 0, 0, true}, {"POINT(x 1 2)", format.NoShape, 0, 0, 0, true}, {"POINT(1)", format.NoShape, 0, 0, 0, true}, {"POINT(1 2", format.NoShape, 0, 0, 0, true}, {"POINT(1 2) x", format.NoShape, 0, 0, 0, true}, {"LINESTRING(1 2 3 4 5,6 7)", format.NoShape, 0, 0, 0, true}, {"POLYGON(0 0,1 1)", format.NoShape, 0, 0, 0, true},
		{"0102000000ff000000000000000000f03f00000000000000", format.NoShape, 0, 0, 0, true},
	} {
		var s format.Shape
		srid := ReadText([]byte(c.text), &s, 100)
		if s.Kind != c.kind || len(s.Points) != c.points || len(s.Parts) != c.parts || srid != c.srid || (s.Wrong != "") != c.wrong {
			t.Errorf("%s: kind %d, %d points, %d parts, srid %d, %q", c.text, s.Kind, len(s.Points), len(s.Parts), srid, s.Wrong)
		}
	}
}

// FuzzText reads any cell as a geometry: parts and polygons stay in range.
func FuzzText(f *testing.F) {
	for _, seed := range []string{"POINT(1 2)", "SRID=4326;MULTIPOLYGON(((0 0,1 0,1 1,0 0)),((2 2,3 2,3 3,2 2),(2.1 2.1,2.2 2.1,2.2 2.2,2.1 2.1)))", "CURVEPOLYGON (CIRCULARSTRING (5 7, 1 7, 5 7))", "0101000000000000000000f03f0000000000000040"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var s format.Shape
		ReadText(text, &s, 1000)
		for i := range s.Parts {
			s.Part(i)
		}
		if n := len(s.Polygons); n > 0 && s.Polygons[n-1] > len(s.Parts) {
			t.Fatalf("%q: polygons end at part %d of %d", text, s.Polygons[n-1], len(s.Parts))
		}
	})
}
