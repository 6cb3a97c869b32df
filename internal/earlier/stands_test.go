package earlier

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// TestAcresOfOldFolders: a stand of an old folder without exact acres gets the printed acres; a
// stand with exact acres gets those; invalid text is rejected.
func TestAcresOfOldFolders(t *testing.T) {
	geometry := []byte(`{"type":"Polygon","coordinates":[[[-40,-33],[-39.99969,-33],[-39.99969,-32.99969],[-40,-33]]]}`)
	properties := []byte(`{"stand_id":"2026Q2-0001","quarter":"2026Q2","management_status":"untreated","gross_acres":0.2,"infested_acres":0.1234,"canopy_acres":0.1,"zone_acres":0.05}`)
	for head, want := range map[string]float64{
		`{"type":"Feature","id":"2026Q2-0001"`: 0.1234,
		`{"type":"Feature","id":"2026Q2-0001"` + exactMark + `{"Gross":0.2,"Infested":0.12341,"Canopy":0.1,"Zone":0.05}`: 0.12341,
	} {
		known, err := knownOf([]byte(head), geometry, properties)
		if got := float64(known.Infested.Acres()); err != nil || got < want-1e-12 || got > want+1e-12 {
			t.Errorf("%s: %v acres, want %v (%v)", head, got, want, err)
		}
	}
	if _, err := knownOf([]byte(`{"type":"Feature"`+exactMark+`{`), geometry, properties); err == nil {
		t.Error("half of the exact acres were read")
	}
	for _, exact := range []string{
		`{"Gross":0.3,"Infested":0.1234,"Canopy":0.1,"Zone":0.05}`, `{"Gross":0.2,"Infested":0.1236,"Canopy":0.1,"Zone":0.05}`,
		`{"Gross":0.2,"Infested":0.1234,"Canopy":0.12,"Zone":0.05}`, `{"Gross":0.2,"Infested":0.1234,"Canopy":0.1,"Zone":0}`,
	} {
		if _, err := knownOf([]byte(`{"type":"Feature"`+exactMark+exact), geometry, properties); err == nil || !strings.Contains(err.Error(), "and the exact value is 0") {
			t.Errorf("exactly %s, printed otherwise: %v", exact, err)
		}
	}
}

// TestMeasuresOfEarlierRecords: a record of an earlier folder with a measure that no batch accepts
// is reported with its name; a record without measures is sound.
func TestMeasuresOfEarlierRecords(t *testing.T) {
	reading := recordReader{ours: map[string]bool{}, columns: map[string]int{}, quarter: survey.Quarter{Year: 2026, Number: 1}}
	geometry := []byte(`{"type":"Point","coordinates":[-40,-33]}`)
	for measure, want := range map[string]string{
		`"stem_height_m":null`:                  "",
		`"patch_area_m2":1e9`:                   "",
		`"patch_area_m2":1e308`:                 "record r: patch_area_m2 is 1e+308",
		`"patch_area_m2":-1`:                    "record r: patch_area_m2 is -1",
		`"canopy_cover_percent":100.5`:          "record r: canopy_cover_percent is 100.5",
		`"stem_height_m":-2`:                    "record r: stem_height_m is -2",
		`"coordinateUncertaintyInMeters":-3`:    "record r: coordinateUncertaintyInMeters is -3",
		`"coordinateUncertaintyInMeters":1e300`: "record r: coordinateUncertaintyInMeters is 1e+300",
	} {
		_, err := reading.record(geometry, []byte(`{"occurrenceID":"r",`+measure+`}`))
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v, want %q", measure, err, want)
		}
	}
}

// TestWhatIsRememberedOfAStand: a stand has had at least the acres it has now; one that is gone from
// before such figures were kept misses what it had; by hand, in grains of a ten thousand millionth acre.
func TestWhatIsRememberedOfAStand(t *testing.T) {
	gone := survey.Quarter{Year: 2026, Number: 2}
	for _, c := range []struct {
		exact exactAcres
		since survey.Quarter
		want  lineage.Memory
	}{
		{exactAcres{Ever: 3, Missing: 1, Lost: true}, survey.Quarter{}, lineage.Memory{Ever: 3e10, Missing: 1e10, Lost: true}},
		{exactAcres{Ever: 1}, survey.Quarter{}, lineage.Memory{Ever: 2e10}}, {exactAcres{}, survey.Quarter{}, lineage.Memory{Ever: 2e10}},
		{exactAcres{}, gone, lineage.Memory{Ever: 2e10, Missing: 2e10}}, {exactAcres{Ever: 3, Missing: 1}, gone, lineage.Memory{Ever: 3e10, Missing: 1e10}},
	} {
		k := lineage.Known{Stand: stand.Stand{Infested: geo.Acres(2).SquareMeters()}, Since: c.since}
		if got := c.exact.memory(&k); got != c.want {
			t.Errorf("%+v since %s: %+v, want %+v", c.exact, c.since, got, c.want)
		}
	}
}

// TestFootprintAcrossTheAntimeridian: a footprint that a file cut at the antimeridian is one again, with
// its middle there, and a square of a hundredth of a degree keeps its area; one elsewhere stays as it
// is.
func TestFootprintAcrossTheAntimeridian(t *testing.T) {
	square := func(west, east float64) string {
		return fmt.Sprintf("[[[%[1]v,10],[%[2]v,10],[%[2]v,10.01],[%[1]v,10.01],[%[1]v,10]]]", west, east)
	}
	var whole, cut lineage.Known
	if err := footprint(&whole, []byte(`{"type":"Polygon","coordinates":`+square(100, 100.01)+`}`)); err != nil {
		t.Fatal(err)
	}
	if err := footprint(&cut, []byte(`{"type":"MultiPolygon","coordinates":[`+square(179.996, 180)+","+square(-180, -179.994)+`]}`)); err != nil {
		t.Fatal(err)
	}
	a, b := float64(earth.Area(whole.Footprint.Polygons())), float64(earth.Area(cut.Footprint.Polygons()))
	if parts := len(cut.Footprint.Polygons()); parts != 1 || math.Abs(a-b) > 1e-6*a || math.Abs(cut.Center[0]+179.999) > 1e-6 || math.Abs(whole.Center[0]-100.005) > 1e-6 {
		t.Errorf("%d parts of %v m2, middle %v; elsewhere %v m2, middle %v", parts, b, cut.Center, a, whole.Center)
	}
	var none lineage.Known
	if err := footprint(&none, []byte("null")); err != nil || len(none.Footprint.Polygons()) != 0 {
		t.Errorf("no footprint: %v, %v", none.Footprint.Polygons(), err)
	}
}

// TestLinesOfStretches: a line is read, one that was cut at the antimeridian in the order of its parts;
// what is none is refused.
func TestLinesOfStretches(t *testing.T) {
	for text, want := range map[string]int{
		`{"type":"LineString","coordinates":[[1,2],[3,4]]}`: 2, `{"type":"MultiLineString","coordinates":[[[179,2],[180,3]],[[-180,3],[-179,4]]]}`: 4, "null": 0,
		`{"type":"LineString","coordinates":[[1,2],[3,4]]} `: -1, `{"type":"LineString","coordinates":[[1,2],[3]]}`: -1, `{"type":"Point","coordinates":[1,2]}`: -1, "": -1,
	} {
		line, err := lineOf([]byte(text))
		if (err == nil) != (want >= 0) || err == nil && len(line) != want || want == 4 && (line[1] != orb.Point{180, 3} || line[2] != orb.Point{-180, 3}) {
			t.Errorf("%s: %v, %v", text, line, err)
		}
	}
}
