package intake

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/stream"
	"driftreach/internal/testkit"
)

// readBarriers reads a text and checks it as a batch of its own, as a run does.
func readBarriers(t testing.TB, text string, o Options) ([]stream.Structure, []check.Finding, Barriers) {
	t.Helper()
	file, findings, err := ReadBarriers(testkit.Source("barriers", strings.NewReader(text)), o)
	if err != nil {
		t.Fatalf("reading failed: %v", err)
	}
	if file.Read != len(file.Structures)+file.Rejected {
		t.Errorf("read %d barriers, accepted %d, rejected %d", file.Read, len(file.Structures), file.Rejected)
	}
	structures, more := stream.CheckStructures(file.Structures, stream.Options{})
	findings = append(findings, more...)
	check.Sort(findings)
	if rejected := check.Count(findings, check.Error); file.Read != len(structures)+rejected {
		t.Errorf("read %d barriers, kept %d, told of %d as rejected", file.Read, len(structures), rejected)
	}
	return structures, findings, file
}

// TestBarrierFields reads every field and kind of place once; values by hand.
func TestBarrierFields(t *testing.T) {
	if f := fmt.Sprint(column.FieldNames(barrierFields)); f != "[barrier_id kind barrier_pass decimalLongitude decimalLatitude]" {
		t.Error(f)
	}
	for _, c := range []struct{ name, geometry, want string }{
		{"point", `{"type":"Point","coordinates":[1,2]}`, "[1 2]"},
		{"a point as many", `{"type":"MultiPoint","coordinates":[[1,2]]}`, "[1 2]"},
		{"area", `{"type":"Polygon","coordinates":[[[1,2],[3,2],[3,4],[1,4],[1,2]]]}`, "[2 3]"},
	} {
		got, findings, _ := readBarriers(t, unitFeature(`{"barrier_id":7.0,"kind":"Dam","barrier_pass":0.25}`, c.geometry), testOptions())
		if len(got) != 1 || len(findings) > 0 {
			t.Fatalf("%s: %v %s", c.name, got, codes(findings))
		}
		b := got[0]
		if fmt.Sprint(b.Position) != c.want || b.ID != "7" || b.Kind != stream.Dam || b.Pass != 0.25 || b.Row != 1 || b.File != "barriers" {
			t.Errorf("%s: %+v, want %s", c.name, b, c.want)
		}
	}
}

// TestBadBarrierRows checks that every faulty row of a table gives its finding; by hand.
func TestBadBarrierRows(t *testing.T) {
	const good = "barrier_id,kind,barrier_pass,lon,lat\na,dam,0.3,1,2\n"
	for _, c := range []struct {
		name, row string
		kept      int
		want      string
	}{
		{"good", "b,weir,,1,3", 2, ""},
		{"no longitude", "b,weir,,,3", 1, "b position-missing"},
		{"no number", "b,weir,,here,3", 1, "b position-unreadable"},
		{"out of range", "b,weir,,1,300", 1, "b barrier-out-of-range"},
		{"no kind", "b,,0.5,1,3", 1, "b barrier-kind-unknown"},
		{"other kind", "b,bridge,0.5,1,3", 1, "b barrier-kind-unknown"},
		{"pass in words", "b,weir,most,1,3", 2, "b number-unreadable"},
		{"pass in percent", "b,weir,70,1,3", 2, "b barrier-pass-out-of-range"},
		{"too many cells", "b,weir,,1,3,4", 1, "b row-ragged"},
		{"no id", ",weir,,1,3", 2, "row 2 barrier-id-missing"},
		{"copy", "a,dam,0.3,1,2", 1, "a barrier-duplicate"},
	} {
		got, findings, _ := readBarriers(t, good+c.row+"\n", testOptions())
		if len(got) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(got), codes(findings), c.kept, c.want)
		}
	}
	for _, c := range []struct{ name, geometry, want string }{
		{"no geometry", `null`, "b geometry-empty"},
		{"a line", `{"type":"LineString","coordinates":[[1,2],[3,4]]}`, "b geometry-kind"},
		{"several", `{"type":"MultiPoint","coordinates":[[1,2],[3,4]]}`, "b geometry-malformed"},
	} {
		got, findings, _ := readBarriers(t, `{"type":"FeatureCollection","features":[`+unitFeature(`{"barrier_id":"a","kind":"dam"}`, `{"type":"Point","coordinates":[1,2]}`)+","+
			unitFeature(`{"barrier_id":"b","kind":"dam"}`, c.geometry)+`]}`, testOptions())
		if len(got) != 1 || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %q", c.name, len(got), codes(findings), c.want)
		}
	}
}

// TestBarriersMapped: mapped columns, units and words; waypoints of GPX.
func TestBarriersMapped(t *testing.T) {
	o := testOptions()
	o.Mapping.Columns = single(map[string]string{"barrier_pass": "Passable"})
	o.Mapping.Units = map[string]string{"barrier_pass": "%"}
	o.Mapping.Values = map[string]map[string]string{"kind": {"sill": "weir"}}
	got, _, file := readBarriers(t, "Structure_ID,kind,Passable,x,y\n9,Sill,70,1,2\n", o)
	if len(got) != 1 || got[0].Kind != stream.Weir || math.Abs(float64(got[0].Pass-0.7)) > 1e-15 || got[0].ID != "barriers#1" {
		t.Errorf("%+v", got)
	}
	if want := []column.Proposal{{Field: "barrier_id", Column: "Structure_ID"}}; !slices.Equal(file.Proposals, want) {
		t.Errorf("proposals %+v", file.Proposals)
	}
	got, _, _ = readBarriers(t, `<gpx><wpt lat="2" lon="1"><name>a</name><type>culvert</type></wpt><trk><trkseg><trkpt lat="2" lon="1"/></trkseg></trk></gpx>`, testOptions())
	if len(got) != 1 || got[0].ID != "a" || got[0].Kind != stream.Culvert {
		t.Errorf("%+v", got)
	}
}

func TestBarriersUnusable(t *testing.T) {
	for _, c := range []struct{ name, text, found string }{
		{"no place", "barrier_id,kind\na,dam\n", "no columns for longitude and latitude"},
		{"lines alone", unitFeature(`{}`, `{"type":"LineString","coordinates":[[1,2],[3,4]]}`), "no feature is a point or an area"},
	} {
		if _, _, err := ReadBarriers(testkit.Source("barriers", strings.NewReader(c.text)), testOptions()); err == nil || !strings.Contains(err.Error(), c.found) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
