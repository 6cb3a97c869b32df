package intake

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/testkit"
	"driftreach/internal/work"
)

// readWorks reads a text and checks it as a batch of its own, as a run does.
func readWorks(t *testing.T, text string, o Options) ([]work.Work, []check.Finding, Works) {
	t.Helper()
	file, findings, err := ReadWorks(testkit.Source("works", strings.NewReader(text)), o)
	if err != nil {
		t.Fatalf("reading failed: %v", err)
	}
	if file.Read != len(file.Works)+file.Rejected {
		t.Errorf("read %d works, accepted %d, rejected %d", file.Read, len(file.Works), file.Rejected)
	}
	works, more := work.Check(file.Works, work.Options{})
	findings = append(findings, more...)
	check.Sort(findings)
	if rejected := check.Count(findings, check.Error); file.Read != len(works)+rejected {
		t.Errorf("read %d works, kept %d, told of %d as rejected", file.Read, len(works), rejected)
	}
	return works, findings, file
}

// TestWorkFields reads every field and kind of place once; values by hand.
func TestWorkFields(t *testing.T) {
	if f := column.FieldNames(workFields); len(f) != 7 || f[0] != "work_id" || f[6] != "decimalLatitude" {
		t.Error(f)
	}
	const header = `{"type":"FeatureCollection","features":[`
	for _, c := range []struct{ name, geometry, want string }{
		{"point", `{"type":"Point","coordinates":[1,2]}`, "[[1 2]] [] []"},
		{"points", `{"type":"MultiPoint","coordinates":[[1,2],[3,4]]}`, "[[1 2] [3 4]] [] []"},
		{"line", `{"type":"LineString","coordinates":[[1,2],[3,4]]}`, "[] [[[1 2] [3 4]]] []"},
		{"lines", `{"type":"MultiLineString","coordinates":[[[1,2],[3,4]],[[5,6],[7,8]]]}`, "[] [[[1 2] [3 4]] [[5 6] [7 8]]] []"},
		{"area", `{"type":"Polygon","coordinates":[[[1,2],[3,4],[3,2],[1,2]]]}`, "[] [] [[[[1 2] [3 4] [3 2] [1 2]]]]"},
		{"areas, one open", `{"type":"MultiPolygon","coordinates":[[[[1,2],[3,4],[3,2]]],[[[5,2],[7,4],[7,2],[5,2]]]]}`, "[] [] [[[[1 2] [3 4] [3 2] [1 2]]] [[[5 2] [7 4] [7 2] [5 2]]]]"},
	} {
		works, _, _ := readWorks(t, header+`{"type":"Feature","properties":{"work_id":7.0,"kind":"Mowing","start_date":"2026-10","end_date":"2026-11","contact":"Roads"},"geometry":`+c.geometry+`}]}`, testOptions())
		if len(works) != 1 {
			t.Fatalf("%s: %d works", c.name, len(works))
		}
		w := works[0]
		if got := fmt.Sprint(w.Points, w.Lines, w.Areas); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		// a month as a start is its first day, as an end its last
		if w.ID != "7" || w.Kind != work.Mowing || w.Contact != "Roads" || w.Row != 1 || w.File != "works" ||
			w.Start.Format(time.DateOnly) != "2026-10-01" || w.End.Format(time.DateOnly) != "2026-11-30" {
			t.Errorf("%s: %+v", c.name, w)
		}
	}
}

// TestBadWorkRows holds every bad row of a table to its finding; by hand.
func TestBadWorkRows(t *testing.T) {
	const good = "work_id,kind,start_date,end_date,contact,lon,lat\na,mowing,2026-10-05,2026-10-09,Roads,1,2\n"
	for _, c := range []struct {
		name, row string
		kept      int
		want      string
	}{
		{"good", "b,earthwork,2026-10-05,2026-10-09,Roads,1,2", 2, ""},
		{"no longitude", "b,earthwork,2026-10-05,2026-10-09,Roads,,2", 1, "b position-missing"},
		{"no number", "b,earthwork,2026-10-05,2026-10-09,Roads,here,2", 1, "b position-unreadable"},
		{"too many cells", "b,earthwork,2026-10-05,2026-10-09,Roads,1,2,3", 1, "b row-ragged"},
		{"date in words", "b,earthwork,2026-10-05,autumn,Roads,1,2", 2, "b date-unreadable; b work-end-missing"},
		{"start in words", "b,earthwork,soon,2026-10-09,Roads,1,2", 2, "b date-unreadable"},
		{"dates not known", "b,earthwork,NA,NA,Roads,1,2", 2, "b work-end-missing"},
		{"other word", "b,blasting,2026-10-05,2026-10-09,Roads,1,2", 2, "b work-kind-other"},
		{"out of range", "b,earthwork,2026-10-05,2026-10-09,Roads,1,200", 1, "b work-out-of-range"},
	} {
		works, findings, _ := readWorks(t, good+c.row+"\n", testOptions())
		if len(works) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(works), codes(findings), c.kept, c.want)
		}
	}
}

// TestBadWorkShapes: features that cannot be placed, by hand.
func TestBadWorkShapes(t *testing.T) {
	for _, c := range []struct{ name, geometry, want string }{
		{"no geometry", `null`, "b geometry-empty"},
		{"one vertex", `{"type":"LineString","coordinates":[[1,2]]}`, "b geometry-malformed"},
		{"two corners", `{"type":"Polygon","coordinates":[[[1,2],[3,4],[1,2]]]}`, "b geometry-malformed"},
		{"collection", `{"type":"GeometryCollection","geometries":[]}`, "b geometry-kind"},
		{"NaN in a line", `{"type":"LineString","coordinates":[[1,2],[NaN,4]]}`, "b work-not-finite"},
		{"NaN in an area", `{"type":"Polygon","coordinates":[[[1,2],[3,NaN],[3,2],[1,2]]]}`, "b geometry-malformed"},
	} {
		works, findings, _ := readWorks(t, `{"type":"FeatureCollection","features":[
			{"type":"Feature","properties":{"work_id":"a","kind":"mowing","end_date":"2026-10-09","contact":"x"},"geometry":{"type":"Point","coordinates":[1,1]}},
			{"type":"Feature","properties":{"work_id":"b","kind":"mowing","end_date":"2026-10-09","contact":"x"},"geometry":`+c.geometry+`}]}`, testOptions())
		if len(works) != 1 || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %q", c.name, len(works), codes(findings), c.want)
		}
	}
}

// TestWorksInOtherFormats: well-known text in CSV, and everything in a GPX file.
func TestWorksInOtherFormats(t *testing.T) {
	works, _, _ := readWorks(t, "work_id,WKT\na,\"LINESTRING (1 2, 3 4)\"\nb,POINT (5 6)\n", testOptions())
	if len(works) != 2 || len(works[0].Lines) != 1 || len(works[1].Points) != 1 {
		t.Errorf("well-known text: %+v", works)
	}
	works, _, _ = readWorks(t, `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="2" lon="1"><name>a</name></wpt>
<trk><name>b</name><trkseg><trkpt lat="2" lon="1"/><trkpt lat="3" lon="1"/></trkseg></trk></gpx>`, testOptions())
	if len(works) != 2 || works[0].ID != "a" || len(works[0].Points) != 1 || works[1].ID != "b" || len(works[1].Lines) != 1 {
		t.Errorf("GPX: %+v", works)
	}
}

// TestWorksMapped: columns and words of the user's own.
func TestWorksMapped(t *testing.T) {
	o := testOptions()
	o.Mapping.Columns = single(map[string]string{"work_id": "Job", "kind": "Type"})
	o.Mapping.Values = map[string]map[string]string{"kind": {"Digging": "earthwork"}}
	works, _, file := readWorks(t, "Job,Type,until,x,y\n9,digging,2026-10-09,1,2\n8,drilling,2026-10-09,1,2\n", o)
	if len(works) != 2 || works[0].ID != "8" || works[0].Kind != "drilling" || works[1].Kind != work.Earthwork {
		t.Errorf("%+v", works)
	}
	if len(file.Proposals) != 1 || file.Proposals[0] != (column.Proposal{Field: "end_date", Column: "until"}) {
		t.Errorf("proposals %+v", file.Proposals)
	}
	if len(file.Words) != 2 || file.Words[0].Meaning == "" {
		t.Errorf("words %+v", file.Words)
	}
}

func TestWorksUnusable(t *testing.T) {
	for _, c := range []struct{ name, text, found string }{
		{"no position", "work_id,kind\na,mowing\n", "no columns for longitude and latitude"},
		{"no shape that is known", `{"type":"Feature","properties":{},"geometry":{"type":"GeometryCollection","geometries":[]}}`, "no feature is a point, a line or an area"},
	} {
		if _, _, err := ReadWorks(testkit.Source("works", strings.NewReader(c.text)), testOptions()); err == nil || !strings.Contains(err.Error(), c.found) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
