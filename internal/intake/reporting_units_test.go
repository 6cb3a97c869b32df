package intake

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/testkit"
	"driftreach/internal/unit"
)

// readUnits reads a text and checks it as a batch of its own, as a run does.
func readUnits(t testing.TB, text string, o Options) ([]unit.Unit, []check.Finding, Units) {
	t.Helper()
	file, findings, err := ReadUnits(testkit.Source("units", strings.NewReader(text)), o)
	if err != nil {
		t.Fatalf("reading failed: %v", err)
	}
	if file.Read != len(file.Units)+file.Rejected {
		t.Errorf("read %d units, accepted %d, rejected %d", file.Read, len(file.Units), file.Rejected)
	}
	units, more := unit.Check(file.Units, unit.Options{})
	findings = append(findings, more...)
	check.Sort(findings)
	features := check.Count(findings, check.Error)
	for i := range units {
		features += units[i].Features("units")
	}
	if file.Read != features {
		t.Errorf("read %d units, %d are accounted for", file.Read, features)
	}
	return units, findings, file
}

const square = `{"type":"Polygon","coordinates":[[[1,2],[3,2],[3,4],[1,2]]]}`

func unitFeature(properties, geometry string) string {
	return `{"type":"Feature","properties":` + properties + `,"geometry":` + geometry + `}`
}

// TestUnitFields reads every field and kind of area once; values by hand.
func TestUnitFields(t *testing.T) {
	if f := column.FieldNames(unitFields); len(f) != 2 || f[0] != "unit_id" || f[1] != "unit_name" {
		t.Error(f)
	}
	for _, c := range []struct{ name, geometry, want string }{
		{"area", square, "[[[[1 2] [3 2] [3 4] [1 2]]]]"},
		{"areas, one open", `{"type":"MultiPolygon","coordinates":[[[[1,2],[3,2],[3,4]]],[[[5,2],[7,2],[7,4],[5,2]]]]}`, "[[[[1 2] [3 2] [3 4] [1 2]]] [[[5 2] [7 2] [7 4] [5 2]]]]"},
	} {
		units, _, _ := readUnits(t, unitFeature(`{"unit_id":7.0,"unit_name":"Río"}`, c.geometry), testOptions())
		if len(units) != 1 {
			t.Fatalf("%s: %d units", c.name, len(units))
		}
		if u := units[0]; fmt.Sprint(u.Areas) != c.want || u.ID != "7" || u.Name != "Río" || u.Row != 1 || u.File != "units" {
			t.Errorf("%s: %+v, want %s", c.name, u, c.want)
		}
	}
}

// TestBadUnitShapes: features that are not usable as units, by hand.
func TestBadUnitShapes(t *testing.T) {
	for _, c := range []struct {
		name, geometry string
		kept           int
		want           string
	}{
		{"no geometry", `null`, 1, "b geometry-empty"},
		{"a point", `{"type":"Point","coordinates":[1,2]}`, 1, "b geometry-kind"},
		{"a line", `{"type":"LineString","coordinates":[[1,2],[3,4]]}`, 1, "b geometry-kind"},
		{"two corners", `{"type":"Polygon","coordinates":[[[1,2],[3,4],[1,2]]]}`, 1, "b geometry-malformed"},
		{"NaN", `{"type":"Polygon","coordinates":[[[1,2],[3,NaN],[3,2],[1,2]]]}`, 1, "b geometry-malformed"},
		{"no positions", `{"type":"Polygon","coordinates":[]}`, 1, "b geometry-empty"},
		{"open", `{"type":"Polygon","coordinates":[[[11,2],[13,2],[13,4]]]}`, 2, "b outline-closed"},
		{"projected", `{"type":"Polygon","coordinates":[[[500000,2],[3,2],[3,4],[500000,2]]]}`, 1, "b unit-out-of-range"},
	} {
		units, findings, _ := readUnits(t, `{"type":"FeatureCollection","features":[`+unitFeature(`{"unit_id":"a"}`, square)+","+
			unitFeature(`{"unit_id":"b"}`, c.geometry)+`]}`, testOptions())
		if len(units) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(units), codes(findings), c.kept, c.want)
		}
	}
}

// TestUnitsMapped: a user's columns are mapped, and others are proposed.
func TestUnitsMapped(t *testing.T) {
	o := testOptions()
	o.Mapping.Columns = single(map[string]string{"unit_id": "FIPS"})
	units, _, file := readUnits(t, "FIPS;County;WKT\n17;Adams;\"POLYGON ((1 2, 3 2, 3 4, 1 2))\"\n", o)
	if len(units) != 1 || units[0].ID != "17" || units[0].Name != "" {
		t.Errorf("%+v", units)
	}
	if want := []column.Proposal{{Field: "unit_name", Column: "County"}}; !slices.Equal(file.Proposals, want) {
		t.Errorf("proposals %+v", file.Proposals)
	}
}

func TestUnitsUnusable(t *testing.T) {
	for _, c := range []struct{ name, text, found string }{
		{"no areas", "unit_id,unit_name\na,b\n", "without a column of areas"},
		{"points alone", unitFeature(`{}`, `{"type":"Point","coordinates":[1,2]}`), "no feature is an area"},
		{"GPX", `<gpx><wpt lat="1" lon="2"/></gpx>`, "no feature is an area"},
	} {
		if _, _, err := ReadUnits(testkit.Source("units", strings.NewReader(c.text)), testOptions()); err == nil || !strings.Contains(err.Error(), c.found) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// unitsGeoJSON is a unit with a hole that no other unit fills, and one in two parts.
const unitsGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"unit_id":"U2","unit_name":"Side, Water"},"geometry":{"type":"Polygon","coordinates":[[[-118.3,34],[-118.2,34],[-118.2,34.1],[-118.3,34.1],[-118.3,34]],[[-118.27,34.03],[-118.27,34.06],[-118.24,34.06],[-118.24,34.03],[-118.27,34.03]]]}},
{"type":"Feature","properties":{"unit_id":"U10","unit_name":"Río Ancho"},"geometry":{"type":"MultiPolygon","coordinates":[[[[-118.2,34],[-118.1,34],[-118.1,34.1],[-118.2,34.1],[-118.2,34]]],[[[-118,34],[-117.95,34],[-118,34.05],[-118,34]]]]}}
]}`

// TestUnitsOfGDAL: the units are the same in every format and reference system that holds areas, to
// a hundred-thousandth of their area. The hole of U2 is reported as a gap with its size. The common
// border leaves no gap, since its vertices are the same in both units. GDAL is the reference
// program.
func TestUnitsOfGDAL(t *testing.T) {
	want, _, _ := readUnits(t, unitsGeoJSON, testOptions())
	hole := float64(earth.Area(orb.MultiPolygon{{want[0].Areas[0][1]}}))
	everywhere(t, func(t *testing.T, w written, system string) {
		if w.file == "a.gpx" {
			t.Skip("GPX holds no areas")
		}
		o := testOptions()
		if w.file == "a.csv" {
			o.CRS = definition(t, system)
		}
		file, findings, err := ReadUnits(onDisk(gdal(t, unitsGeoJSON, w, system), w.layer), o)
		if err != nil {
			t.Fatal(err)
		}
		if n := check.Count(findings, check.Error) + check.Count(findings, check.Warning); n > 0 {
			t.Errorf("%d troubles: %v", n, findings)
		}
		got, more := unit.Check(file.Units, unit.Options{})
		if len(got) != len(want) || codes(more) != "U2 unit-gap" {
			t.Fatalf("%d units, %s", len(got), codes(more))
		}
		var size float64
		if _, err := fmt.Sscanf(more[0].Value, "%g m2", &size); err != nil || math.Abs(size-hole) > 1e-5*hole {
			t.Errorf("a gap of %q, want %.0f m2", more[0].Value, hole)
		}
		for i := range want {
			a, b := float64(earth.Area(want[i].Areas)), float64(earth.Area(got[i].Areas))
			if want[i].ID != got[i].ID || want[i].Name != got[i].Name || math.Abs(a-b) > 1e-5*a {
				t.Errorf("%s %q of %g m2, want %s %q of %g m2", got[i].ID, got[i].Name, b, want[i].ID, want[i].Name, a)
			}
		}
	})
}
