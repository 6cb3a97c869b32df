package intake

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/testkit"
	"driftreach/internal/treatment"
)

// readTreatments reads a text and checks it as a batch of its own, as a run does.
func readTreatments(t testing.TB, text string, o Options) ([]treatment.Treatment, []check.Finding, Treatments) {
	t.Helper()
	file, findings, err := ReadTreatments(testkit.Source("work", strings.NewReader(text)), o)
	if err != nil {
		t.Fatalf("reading failed: %v", err)
	}
	if file.Read != len(file.Actions)+file.Rejected {
		t.Errorf("read %d rows, accepted %d, rejected %d", file.Read, len(file.Actions), file.Rejected)
	}
	actions, more := treatment.Check(file.Actions, treatment.Options{End: quarter.End()})
	findings = append(findings, more...)
	check.Sort(findings)
	if rejected := check.Count(findings, check.Error); file.Read != len(actions)+rejected {
		t.Errorf("read %d rows, kept %d, told of %d as rejected", file.Read, len(actions), rejected)
	}
	return actions, findings, file
}

// TestTreatmentFields reads every field once; values by hand.
func TestTreatmentFields(t *testing.T) {
	if f := fmt.Sprint(column.FieldNames(treatmentFields)); f != "[treatment_id date stand_id method formulation_class treated_acres decimalLongitude decimalLatitude "+
		"product registration_number amount amount_unit applicator licence start_time end_time wind_mps temperature_c hours photo_numbers]" {
		t.Error(f)
	}
	actions, findings, _ := readTreatments(t, "date,stand_id,lon,lat,method,formulation_class,treated_acres\n"+
		"2026-07-05,2026Q1-0001,1,2,Foliar_Spray,Aquatic labelled,0.25\n2026-07,17.0,,,,,\n", testOptions())
	if len(actions) != 2 || codes(findings) != "row 2 treatment-acres-missing" {
		t.Fatal(actions, codes(findings))
	}
	a, b := actions[0], actions[1]
	if a.Date.Format(time.DateOnly) != "2026-07-05" || a.StandID != "2026Q1-0001" || !a.Placed || a.Position[0] != 1 || a.Position[1] != 2 ||
		a.Method != treatment.FoliarSpray || a.FormulationClass != treatment.AquaticLabelled || a.TreatedAcres != 0.25 || a.Row != 1 || a.File != "work" {
		t.Errorf("%+v", a)
	}
	// a month's work is done when the month is
	if b.Date.Format(time.DateOnly) != "2026-07-31" || b.StandID != "17" || b.Placed || b.Method != "" || !math.IsNaN(b.TreatedAcres) {
		t.Errorf("%+v", b)
	}
}

// TestTreatmentPlaces: the position is the geometry's; of an area, which is the
// ground that was treated, one inside it.
func TestTreatmentPlaces(t *testing.T) {
	for _, c := range []struct{ name, geometry, want string }{
		{"point", `{"type":"Point","coordinates":[1,2]}`, "true [1 2] 0"},
		{"a point as many", `{"type":"MultiPoint","coordinates":[[1,2]]}`, "true [1 2] 0"},
		{"area", `{"type":"Polygon","coordinates":[[[1,2],[1.03125,2],[1.03125,2.03125],[1,2.03125],[1,2]]]}`, "true [1.015625 2.015625] 1"},
		{"none", `null`, "false [0 0] 0"},
	} {
		actions, findings, _ := readTreatments(t, unitFeature(`{"date":"2026-07-05","stand_id":"s","treated_acres":1}`, c.geometry), testOptions())
		if len(actions) != 1 || len(findings) > 0 {
			t.Fatalf("%s: %v %s", c.name, actions, codes(findings))
		}
		if got := fmt.Sprint(actions[0].Placed, actions[0].Position, len(actions[0].Ground)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestBadTreatmentGeometry: several positions, a line, an area and a position out of numbers; each is
// rejected with its finding, though a stand is named.
func TestBadTreatmentGeometry(t *testing.T) {
	for _, c := range []struct{ name, geometry, want string }{
		{"several", `{"type":"MultiPoint","coordinates":[[1,2],[3,4]]}`, "b geometry-malformed"},
		{"a line", `{"type":"LineString","coordinates":[[1,2],[3,4]]}`, "b geometry-kind"},
		{"an empty area", `{"type":"Polygon","coordinates":[]}`, "b geometry-empty"},
		{"an area of a line", `{"type":"Polygon","coordinates":[[[1,2],[3,4],[1,2]]]}`, "b geometry-malformed"},
	} {
		actions, findings, file := readTreatments(t, `{"type":"FeatureCollection","features":[`+unitFeature(`{"treatment_id":"a","date":"2026-07-05","stand_id":"s","treated_acres":1}`, `{"type":"Point","coordinates":[1,2]}`)+","+
			unitFeature(`{"treatment_id":"b","date":"2026-07-06","stand_id":"s","treated_acres":1}`, c.geometry)+`]}`, testOptions())
		if len(actions) != 1 || codes(findings) != c.want || file.Read != 2 {
			t.Errorf("%s: kept %d of %d with %q, want %q", c.name, len(actions), file.Read, codes(findings), c.want)
		}
	}
}

// TestBadTreatmentRows holds every bad row of a table to its finding; by hand.
func TestBadTreatmentRows(t *testing.T) {
	const good = "treatment_id,date,stand_id,lon,lat,method,formulation_class,treated_acres\na,2026-07-05,s,1,2,foliar spray,general,1\n"
	for _, c := range []struct {
		name, row string
		kept      int
		want      string
	}{
		{"good", "b,2026-07-06,s,1,2,hand pull,none,1", 2, ""},
		{"not filled in", "b,,s,1,2,,,", 1, "treatment-form-blank"},
		{"nothing but a place", "b,,,1,2,,,", 1, "row 2 treatment-date-missing"},
		{"no date", "b,,s,1,2,hand pull,none,1", 1, "row 2 treatment-date-missing"},
		{"date in words", "b,July,s,1,2,hand pull,none,1", 1, "b date-unreadable; row 2 treatment-date-missing"},
		{"after the quarter", "b,2026-10-06,s,1,2,hand pull,none,1", 2, "row 2 treatment-after-quarter"},
		{"neither stand nor position", "b,2026-07-06,,,,hand pull,none,1", 1, "row 2 treatment-without-place"},
		{"half a position", "b,2026-07-06,,1,,hand pull,none,1", 1, "b position-missing"},
		{"half a position, stand named", "b,2026-07-06,s,1,,hand pull,none,1", 2, "b treatment-position-left-out"},
		{"position in words", "b,2026-07-06,,here,2,hand pull,none,1", 1, "b position-unreadable"},
		{"position in words, stand named", "b,2026-07-06,s,here,2,hand pull,none,1", 2, "b treatment-position-left-out"},
		{"out of range", "b,2026-07-06,,1,200,hand pull,none,1", 1, "row 2 treatment-out-of-range"},
		{"acres in words", "b,2026-07-06,s,1,2,hand pull,none,much", 2, "b number-unreadable; row 2 treatment-acres-missing"},
		{"negative acres", "b,2026-07-06,s,1,2,hand pull,none,-2", 2, "row 2 treatment-acres-not-positive"},
		{"other words", "b,2026-07-06,s,1,2,goats,hunger,1", 2, "row 2 treatment-formulation-other; row 2 treatment-method-other"},
		{"too many cells", "b,2026-07-06,s,1,2,hand pull,none,1,1", 1, "b row-ragged"},
		{"copy", "a,2026-07-05,s,1,2,foliar spray,general,1", 1, "row 2 treatment-duplicate"},
	} {
		actions, findings, _ := readTreatments(t, good+c.row+"\n", testOptions())
		if len(actions) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(actions), codes(findings), c.kept, c.want)
		}
	}
}

// TestTreatmentsMapped: columns, units and words of the user's own. A hectare is
// 2.471053815 international acres: 10000 / 4046.8564224, by hand.
func TestTreatmentsMapped(t *testing.T) {
	o := testOptions()
	o.Mapping.Columns = single(map[string]string{"date": "Day", "stand_id": "Patch", "treated_acres": "Area"})
	o.Mapping.Units = map[string]string{"treated_acres": "ha"}
	o.Mapping.Values = map[string]map[string]string{"method": {"Gift": "foliar spray"}}
	actions, findings, file := readTreatments(t, "Day,Patch,Area,Method,Label\n2026-07-05,s,2,gift,brand\n2026-07-06,s,2,goats,brand\n", o)
	if len(actions) != 2 || math.Abs(actions[0].TreatedAcres-4.942107630) > 1e-8 || actions[0].Method != treatment.FoliarSpray || actions[1].Method != "goats" {
		t.Errorf("%+v %s", actions, codes(findings))
	}
	if want := []column.Proposal{{Field: "formulation_class", Column: "Label"}}; !slices.Equal(file.Proposals, want) {
		t.Errorf("proposals %+v", file.Proposals)
	}
	if want := []column.WordCount{{Field: "method", Word: "gift", Count: 1, Meaning: "foliar spray"}, {Field: "method", Word: "goats", Count: 1}}; !slices.Equal(file.Words, want) {
		t.Errorf("words %+v", file.Words)
	}
}

func TestTreatmentsUnusable(t *testing.T) {
	for _, c := range []struct{ name, text, found string }{
		{"no place", "date,method\n2026-07-05,mowing\n", "no column for the stand and none for the position"},
		{"lines alone", unitFeature(`{}`, `{"type":"LineString","coordinates":[[1,2],[3,4]]}`), "no feature is a point or an area"},
	} {
		if _, _, err := ReadTreatments(testkit.Source("work", strings.NewReader(c.text)), testOptions()); err == nil || !strings.Contains(err.Error(), c.found) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
