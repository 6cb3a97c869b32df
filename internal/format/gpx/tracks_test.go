package gpx_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// TestTracksAndRoutes: lines where lines are wanted, or by the layer's name; with the first and last time
// of a track where dates are wanted, in whatever order they are; by hand.
func TestTracksAndRoutes(t *testing.T) {
	form := layers.Form{File: "day.gpx", Bytes: []byte(document)}
	points := []string{"waypoint 10.25 50.5 gpx:ele=210 gpx:time=2026-07-01T09:00:00Z gpx:name=A crew=north", "waypoint -10.25 -50.5 gpx:name=B"}
	track := "track (10 50,10.1 50.1)(10.2 50.2,10.3 50.3) gpx:name=T"
	for _, c := range []struct {
		name  string
		asked layers.Asked
		want  []string
	}{
		{"points", layers.Asked{}, points}, {"points with times", layers.Asked{Timed: true}, points},
		{"lines", layers.Asked{Lines: true}, []string{"route (10 50,11 51) gpx:name=R", track}},
		{"tracks with times", layers.Asked{Layer: "TRACKS", Timed: true}, []string{track + " gpx:time=2026-07-01T09:30:00Z/2026-07-01T11:00:00Z"}},
		{"points by name", layers.Asked{Layer: "Waypoints", Lines: true}, points},
		{"another name", layers.Asked{Layer: "track_points"}, nil},
	} {
		l, err := layers.Read(form, c.asked)
		if c.want == nil {
			var unusable *format.UnusableError
			if !errors.As(err, &unusable) || unusable.Found != "the file has no waypoints" || unusable.Remedy != "record finds as waypoints; tracks are lines" {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if diff := cmp.Diff(c.want, l.Describe()); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", c.name, err, diff)
		}
	}
	_, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(`<gpx><wpt lat="1" lon="2"/></gpx>`)}, layers.Asked{Lines: true})
	var unusable *format.UnusableError
	if !errors.As(err, &unusable) || unusable.Found != "the file has no tracks and no routes" || unusable.Remedy != "name a file of tracks or routes; waypoints are points" {
		t.Errorf("points where lines are wanted: %v", err)
	}
	for _, lines := range []bool{false, true} { // nothing was passed over
		if l, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(`<gpx><metadata/></gpx>`)}, layers.Asked{Lines: lines}); err != nil || len(l.Rows) > 0 {
			t.Errorf("an empty document, lines %v: %v", lines, err)
		}
	}
	if l, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(`<gpx><wpt lat="1" lon="2"/><rte><rtept lat="1" lon="2"/></rte></gpx>`)}, layers.Asked{Lines: true}); err != nil || len(l.Rows) != 1 {
		t.Errorf("one route after a point: %v", err)
	}
}

// TestSystemOfAGPX: always WGS 84 (GPX 1.1, latitudeType), whatever system the user names, which is told.
func TestSystemOfAGPX(t *testing.T) {
	l, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(`<gpx><wpt lat="2" lon="1"/></gpx>`)}, layers.Asked{System: "EPSG:32633"})
	if diff := cmp.Diff([]string{"waypoint 1 2"}, l.Describe()); err != nil || diff != "" || len(l.Told) != 1 || l.Told[0].Message != "GPX is always WGS 84 degrees; the reference system asked for was not used" {
		t.Errorf("%v, told %q (-want +got):\n%s", err, l.Tell(), diff)
	}
}

// TestPositions: latitude and longitude are attributes (GPX 1.1, wptType); one that is missing or no
// number is told, and the feature is kept.
func TestPositions(t *testing.T) {
	const wrong = "!lon or lat of a position is no number"
	for attributes, want := range map[string]string{
		`lat="1.5" lon="-2"`: "waypoint -2 1.5", `lon=" 2 " lat=" 1 "`: "waypoint 2 1", `lat="1"`: "waypoint 0 1 " + wrong, `lon="2"`: "waypoint 2 0 " + wrong, `lat="x" lon="2"`: "waypoint 2 0 " + wrong, `lat="1" lon="2,5"`: "waypoint 0 1 " + wrong,
	} {
		l, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte("<gpx><wpt " + attributes + "/></gpx>")}, layers.Asked{})
		if diff := cmp.Diff([]string{want}, l.Describe()); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", attributes, err, diff)
		}
	}
	// no time of a track that has none, and none of a blank one
	for times, want := range map[string]string{"": "track (2 1)", "<time/>": "track (2 1)", "<time> </time>": "track (2 1)", "<time>x</time>": "track (2 1) gpx:time=x/x", "<ele>3</ele><time>2026-07-01</time>": "track (2 1) gpx:time=2026-07-01/2026-07-01"} {
		l, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(`<gpx><trk><trkseg><trkpt lat="1" lon="2">` + times + `</trkpt></trkseg></trk></gpx>`)}, layers.Asked{Lines: true, Timed: true})
		if diff := cmp.Diff([]string{want}, l.Describe()); err != nil || diff != "" {
			t.Errorf("%q: %v (-want +got):\n%s", times, err, diff)
		}
	}
	// a position without a time takes none away
	blank := `<gpx><trk><trkseg><trkpt lat="1" lon="2"><time>2026-07-01</time></trkpt><trkpt lat="1" lon="3"><time/></trkpt></trkseg></trk></gpx>`
	l, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(blank)}, layers.Asked{Lines: true, Timed: true})
	if diff := cmp.Diff([]string{"track (2 1,3 1) gpx:time=2026-07-01/2026-07-01"}, l.Describe()); err != nil || diff != "" {
		t.Errorf("a blank time: %v (-want +got):\n%s", err, diff)
	}
	_, err = layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(`<gpx><trk><trkseg><trkpt lat="1" lon="2"><time>2026</trkpt>`)}, layers.Asked{Lines: true, Timed: true})
	if err == nil || !strings.Contains(err.Error(), "element <time> closed by </trkpt>") {
		t.Errorf("a broken time: %v", err)
	}
}
