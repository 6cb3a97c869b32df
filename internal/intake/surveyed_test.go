package intake

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/surveyed"
	"driftreach/internal/testkit"
)

// readSurveyed reads a text and checks it as a batch of its own, as a run does.
func readSurveyed(t testing.TB, text string, o Options) ([]surveyed.Ground, []check.Finding, Surveyed) {
	t.Helper()
	file, findings, err := ReadSurveyed(testkit.Source("walked", strings.NewReader(text)), o)
	if err != nil {
		t.Fatalf("reading failed: %v", err)
	}
	if file.Read != len(file.Ground)+file.Rejected {
		t.Errorf("read %d pieces, accepted %d, rejected %d", file.Read, len(file.Ground), file.Rejected)
	}
	ground, more := surveyed.Check(file.Ground, surveyed.Options{Begin: quarter.Begin(), End: quarter.End()})
	findings = append(findings, more...)
	check.Sort(findings)
	if rejected := check.Count(findings, check.Error); file.Read != len(ground)+rejected {
		t.Errorf("read %d pieces, kept %d, told of %d as rejected", file.Read, len(ground), rejected)
	}
	return ground, findings, file
}

func days2(g surveyed.Ground) string {
	text := ""
	for _, d := range []time.Time{g.Begin, g.End} {
		if !d.IsZero() {
			text += d.Format(time.DateOnly)
		}
		text += "/"
	}
	return text
}

// TestSurveyedFields reads every field and kind of place once; values by hand.
func TestSurveyedFields(t *testing.T) {
	if f := fmt.Sprint(column.FieldNames(surveyedFields)); f != "[surveyed_id start_date end_date eventDate method bank]" {
		t.Error(f)
	}
	const line = `{"type":"LineString","coordinates":[[1,2],[3,4]]}`
	for _, c := range []struct{ name, properties, geometry, want, days string }{
		{"line, no days", `{}`, line, "[[[1 2] [3 4]]] []", "//"},
		{"lines", `{"eventDate":"2026-07"}`, `{"type":"MultiLineString","coordinates":[[[1,2],[3,4]],[[5,6],[7,8]]]}`, "[[[1 2] [3 4]] [[5 6] [7 8]]] []", "2026-07-01/2026-07-31/"},
		{"area", `{"eventDate":"2026-07-03/05"}`, square, "[] [[[[1 2] [3 2] [3 4] [1 2]]]]", "2026-07-03/2026-07-05/"},
		{"start and end", `{"start_date":"2026-07-03","end":"2026-08"}`, line, "[[[1 2] [3 4]]] []", "2026-07-03/2026-08-31/"},
		{"start wins over the event", `{"start_date":"2026-07-03","eventDate":"2026-08-01"}`, line, "[[[1 2] [3 4]]] []", "2026-07-03/2026-07-03/"},
	} {
		ground, findings, _ := readSurveyed(t, unitFeature(c.properties, c.geometry), testOptions())
		if told := codes(findings); len(ground) != 1 || told != "" && c.days != "//" || c.days == "//" && told != "date-missing" {
			t.Fatalf("%s: %d pieces, %s", c.name, len(ground), codes(findings))
		}
		g := ground[0]
		if got := fmt.Sprint(g.Lines, g.Areas); got != c.want || days2(g) != c.days || g.Row != 1 || g.File != "walked" {
			t.Errorf("%s: %s %s, want %s %s", c.name, got, days2(g), c.want, c.days)
		}
	}
}

// TestTracks: a GPX file's tracks and routes are surveyed on foot, its waypoints are not. The days
// of a track are its own or those of its positions; by hand.
func TestTracks(t *testing.T) {
	ground, findings, file := readSurveyed(t, `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="9" lon="9"><name>find</name></wpt>
<trk><name>a</name><trkseg><trkpt lat="2" lon="1"><time>2026-07-02T23:00:00Z</time></trkpt><trkpt lat="3" lon="1"><ele>4</ele><time>2026-07-03T01:00:00Z</time></trkpt></trkseg>
<trkseg><trkpt lat="4" lon="1"><time>2026-07-01T01:00:00Z</time></trkpt><trkpt lat="5" lon="1"/></trkseg></trk>
<trk><name>old</name><trkseg><trkpt lat="2" lon="2"><time>2025-07-02T23:00:00Z</time></trkpt><trkpt lat="3" lon="2"/></trkseg></trk>
<rte><rtept lat="2" lon="4"/><rtept lat="3" lon="4"/></rte></gpx>`, testOptions())
	got := ""
	for _, g := range ground {
		got += fmt.Sprint(g.Lines) + days2(g) + " "
	}
	want := "[[[4 2] [4 3]]]// [[[2 2] [2 3]]]2025-07-02/2025-07-02/ [[[1 2] [1 3]] [[1 4] [1 5]]]2026-07-01/2026-07-03/ "
	if got != want || file.Read != 3 {
		t.Errorf("%s, want %s", got, want)
	}
	if codes(findings) != "row 2 surveyed-outside-quarter; row 3 date-missing" {
		t.Error(codes(findings))
	}
	// the same for a gx:Track
	ground, findings, _ = readSurveyed(t, `<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"><Placemark><gx:MultiTrack>
<gx:Track><when>2026-07-03T10:00:00Z</when><when>2026-07-03T11:00:00Z</when><gx:coord>1 2 0</gx:coord><gx:coord>1 3 0</gx:coord></gx:Track>
<gx:Track><when>2026-07-01T10:00:00Z</when><gx:coord>1 4 0</gx:coord><gx:coord>1 5 0</gx:coord></gx:Track></gx:MultiTrack></Placemark></kml>`, testOptions())
	if len(ground) != 1 || len(findings) > 0 || fmt.Sprint(ground[0].Lines) != "[[[1 2] [1 3]] [[1 4] [1 5]]]" || days2(ground[0]) != "2026-07-01/2026-07-03/" {
		t.Errorf("%+v, %s", ground, codes(findings))
	}
	// times are ignored for streams
	_, _, streams := readStreams(t, `<gpx><trk><trkseg><trkpt lat="2" lon="1"><time>2026-07-02T23:00:00Z</time></trkpt><trkpt lat="3" lon="1"/></trkseg></trk></gpx>`, testOptions())
	if len(streams.Columns) > 0 {
		t.Error(streams.Columns)
	}
}

// TestBadSurveyed: features that are not ground, by hand.
func TestBadSurveyed(t *testing.T) {
	for _, c := range []struct {
		name, properties, geometry string
		kept                       int
		want                       string
	}{
		{"no geometry", `{}`, `null`, 1, "row 2 geometry-empty"},
		{"a point", `{}`, `{"type":"Point","coordinates":[1,2]}`, 1, "row 2 geometry-kind"},
		{"one vertex", `{}`, `{"type":"LineString","coordinates":[[1,2]]}`, 1, "row 2 geometry-malformed"},
		{"date in words", `{"eventDate":"July"}`, square, 2, "row 2 date-unreadable"},
		{"no date", `{"eventDate":""}`, square, 2, "row 2 date-missing"},
		{"out of range", `{"eventDate":"2026-07-01"}`, `{"type":"LineString","coordinates":[[1,2],[1,200]]}`, 1, "row 2 surveyed-out-of-range"},
	} {
		ground, findings, _ := readSurveyed(t, `{"type":"FeatureCollection","features":[`+unitFeature(`{"eventDate":"2026-07-01"}`, `{"type":"LineString","coordinates":[[1,2],[3,4]]}`)+","+
			unitFeature(c.properties, c.geometry)+`]}`, testOptions())
		if len(ground) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(ground), codes(findings), c.kept, c.want)
		}
	}
}

func TestSurveyedUnusable(t *testing.T) {
	for _, c := range []struct{ name, text, found string }{
		{"no shapes", "eventDate\n2026-07-01\n", "without a column of lines or areas"},
		{"points alone", unitFeature(`{}`, `{"type":"Point","coordinates":[1,2]}`), "no feature is a line or an area"},
		{"waypoints alone", `<gpx><wpt lat="1" lon="2"/></gpx>`, "no tracks and no routes"},
	} {
		if _, _, err := ReadSurveyed(testkit.Source("walked", strings.NewReader(c.text)), testOptions()); err == nil || !strings.Contains(err.Error(), c.found) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
