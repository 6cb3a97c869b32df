package intake

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/testkit"
)

// TestOutlines: rings of points drawn as areas, by hand. A ring that is not closed is closed and told; one
// of fewer than three places is left out, with its holes if it is the outer one; of several areas the rest
// stay. An area with nothing left is rejected.
func TestOutlines(t *testing.T) {
	const (
		square, open = "[[1,2],[2,2],[2,3],[1,3],[1,2]]", "[[1,2],[2,2],[2,3],[1,3]]"
		hole         = "[[1.2,2.2],[1.4,2.2],[1.4,2.4],[1.2,2.2]]"
		line, closed = "[[1,2],[2,2]]", "[[1,2],[2,2],[1,2]]"
		triangle     = "[[5,5],[6,5],[5,6]]"
	)
	for _, c := range []struct{ areas, rings, told string }{
		{square, "5", ""}, {open, "5", "outline-closed"}, {triangle, "4", "outline-closed"}, {square + "," + hole, "5 4", ""},
		{square + "," + line, "5", ""}, {square + "," + closed, "5", ""}, {square + "," + line + "," + hole, "5 4", ""}, {square + ",[]," + hole, "5 4", ""},
		{open + "," + hole, "5 4", "outline-closed"}, {square + ",[[1.2,2.2],[1.4,2.2],[1.4,2.4]]", "5 4", "outline-closed"},
		{line, "", "row 1 malformed"}, {closed, "", "row 1 malformed"}, {line + "," + hole, "", "row 1 malformed"},
		{square + "],[" + triangle, "5; 4", "outline-closed"}, {line + "," + hole + "],[" + square, "5", ""}, {square + "],[" + line + "],[" + hole, "5; 4", ""}, {square + "],[" + closed, "5", ""},
	} {
		text := `{"type":"Feature","properties":{"eventDate":"2026-07-01"},"geometry":{"type":"MultiPolygon","coordinates":[[` + c.areas + `]]}}`
		p, findings, err := ReadPoints(testkit.Source("p", strings.NewReader(text+"\n")), testOptions())
		if err != nil {
			t.Errorf("%s: %v", c.areas, err)
			continue
		}
		var areas []string
		for _, r := range p.Records {
			for _, area := range r.Outline {
				var sizes []string
				for _, ring := range area {
					if sizes = append(sizes, fmt.Sprint(len(ring))); ring[0] != ring[len(ring)-1] {
						t.Errorf("%s: %v is not closed", c.areas, ring)
					}
				}
				areas = append(areas, strings.Join(sizes, " "))
			}
		}
		if got := strings.Join(areas, "; "); got != c.rings || p.Read != 1 || len(p.Records)+p.Rejected != 1 {
			t.Errorf("%s: rings of %s, want %s; %d rejected", c.areas, got, c.rings, p.Rejected)
		}
		if got := codes(findings); (c.told == "") != (got == "") || !strings.Contains(got, strings.TrimPrefix(c.told, "row 1 ")) {
			t.Errorf("%s: told %q, want %q", c.areas, got, c.told)
		}
	}
}

// TestPlacesInside: the middle of the widest stretch inside, on a parallel between the vertices next to the
// middle of the outer ring; by hand. A hole takes out what it covers; without area it is a vertex.
func TestPlacesInside(t *testing.T) {
	ring := func(xy ...float64) (r orb.Ring) {
		for i := 0; i < len(xy); i += 2 {
			r = append(r, orb.Point{xy[i], xy[i+1]})
		}
		return append(r, r[0])
	}
	box := func(a, b, c, d float64) orb.Ring { return ring(a, b, c, b, c, d, a, d) }
	for name, c := range map[string]struct {
		area orb.Polygon
		want orb.Point
	}{
		"a square":                   {orb.Polygon{box(1, 2, 3, 6)}, orb.Point{2, 4}},
		"a hole to the left":         {orb.Polygon{box(0, 0, 10, 10), box(1, 1, 4, 9)}, orb.Point{7, 5}},
		"a hole to the right":        {orb.Polygon{box(0, 0, 10, 10), box(7, 1, 9, 9)}, orb.Point{3.5, 5}},
		"a hole in the middle":       {orb.Polygon{box(0, 0, 10, 10), box(4, 1, 6, 9)}, orb.Point{2, 5}},   // of two as wide, the first
		"a vertex in the middle":     {orb.Polygon{ring(0, 0, 4, 0, 4, 4, 2, 2, 0, 4)}, orb.Point{0.5, 3}}, // between 2 and 4; of two as wide, the first
		"a U, its right arm wider":   {orb.Polygon{ring(0, 0, 9, 0, 9, 8, 4, 8, 4, 1, 2, 1, 2, 8, 0, 8)}, orb.Point{6.5, 4.5}},
		"over the end of longitudes": {orb.Polygon{box(178, 0, 184, 2)}, orb.Point{-179, 1}},
		"from the other side":        {orb.Polygon{ring(179, 0, -177, 0, -177, 2, 179, 2)}, orb.Point{-179, 1}},
		"to the east of the end":     {orb.Polygon{box(-182, 0, -176, 2)}, orb.Point{-179, 1}},
		"no area":                    {orb.Polygon{ring(5, 7, 5, 7, 5, 7)}, orb.Point{5, 7}},
		"a line":                     {orb.Polygon{ring(5, 7, 9, 7, 6, 7)}, orb.Point{5, 7}},
	} {
		if got := placeInside(orb.MultiPolygon{c.area, {box(50, 50, 60, 60)}}); math.Abs(got[0]-c.want[0]) > 1e-9 || math.Abs(got[1]-c.want[1]) > 1e-9 {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	for lon, want := range map[float64]float64{180: 180, -180: -180, 181: -179, -181: 179, 359: -1, 360: 0, 540: 180, 0: 0, 725: 5} {
		if got := turned(lon); math.Abs(got-want) > 1e-9 && math.Abs(math.Abs(got-want)-360) > 1e-9 {
			t.Errorf("%v is turned to %v, want %v", lon, got, want)
		}
	}
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		at   orb.Point
		want bool
	}{{orb.Point{1, 2}, true}, {orb.Point{0, 0}, true}, {orb.Point{nan, 2}, false}, {orb.Point{1, nan}, false}, {orb.Point{inf, 2}, false}, {orb.Point{1, -inf}, false}} {
		if got := finite([]orb.Point{{1, 1}, c.at, {1, 1}}); got != c.want {
			t.Errorf("%v is finite: %v", c.at, got)
		}
	}
}
