package notice

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/work"
)

var quarter = survey.Quarter{Year: 2026, Number: 3}

// places are where errors are likely.
var places = map[string]orb.Point{
	"equator": {20, 0}, "south": {-60, -35.2}, "seventy north": {25, 70}, "antimeridian": {180, -17}, "eighty-four north": {-120, 84},
}

// at converts metres around a middle to degrees.
func at(middle orb.Point, x, y float64) orb.Point {
	return earth.NewFrame(middle).Inverse(orb.Point{x, y})
}

// line is a path in metres about a middle.
func line(middle orb.Point, xy ...orb.Point) orb.LineString {
	var out orb.LineString
	for _, p := range xy {
		out = append(out, at(middle, p[0], p[1]))
	}
	return out
}

// square is an area of a half width in metres about a middle.
func square(middle orb.Point, x, y, half float64) orb.Ring {
	return orb.Ring(line(middle, orb.Point{x - half, y - half}, orb.Point{x + half, y - half}, orb.Point{x + half, y + half}, orb.Point{x - half, y + half}, orb.Point{x - half, y - half}))
}

// box is a stand whose footprint is a square of 20 m.
func box(id string, middle orb.Point, x, y float64, status survey.Status) stand.Stand {
	center := at(middle, x, y)
	center[0] = earth.Wrap(center[0])
	return stand.Stand{ID: id, Status: status, Center: center, Footprint: stand.Pack(orb.MultiPolygon{{square(center, 0, 0, 10)}})}
}

// away is a batch whose works do not touch water.
func away(stands []stand.Stand, works ...work.Work) Site {
	s := Site{Quarter: quarter, Stands: stands, Works: works, Treat: make([]int, len(stands)), AtWater: make([]bool, len(works)), Onward: make([]drift.Onward, len(works))}
	for i := range s.Treat {
		s.Treat[i] = i + 1
	}
	return s
}

// TestDistances: a stand of 20 by 20 m about (0, 0) and works in metres about it,
// all over the earth. Distances by hand, to 1 mm: the footprint's edge is at 10 m.
func TestDistances(t *testing.T) {
	ring := func(middle orb.Point) orb.MultiPolygon { // from 500 m out to 60 m of the middle
		return orb.MultiPolygon{{square(middle, 0, 0, 500), square(middle, 0, 0, 60)}}
	}
	for name, middle := range places {
		m := middle
		for _, c := range []struct {
			name string
			work work.Work
			want float64 // metres; NaN for no notice
		}{
			{"a point 40 m east of the edge", work.Work{Points: orb.MultiPoint{at(m, 50, 0)}}, 40},
			{"the nearer of two points", work.Work{Points: orb.MultiPoint{at(m, 90, 0), at(m, 0, -45)}}, 35},
			{"a point inside", work.Work{Points: orb.MultiPoint{at(m, 3, 3)}}, 0},
			{"off the corner, 3 4 5", work.Work{Points: orb.MultiPoint{at(m, 40, 50)}}, 50},
			{"at 100 m less a centimetre", work.Work{Points: orb.MultiPoint{at(m, 109.99, 0)}}, 99.99},
			{"at 100 m and a centimetre", work.Work{Points: orb.MultiPoint{at(m, 110.01, 0)}}, math.NaN()},
			{"a line past it", work.Work{Lines: orb.MultiLineString{line(m, orb.Point{25, -300}, orb.Point{25, 300})}}, 15},
			{"a line of 4 km past it", work.Work{Lines: orb.MultiLineString{line(m, orb.Point{-2000, 35}, orb.Point{0, 35}, orb.Point{2000, 35})}}, 25},
			{"a line through it", work.Work{Lines: orb.MultiLineString{line(m, orb.Point{-50, -50}, orb.Point{50, 50})}}, 0},
			{"a line far off", work.Work{Lines: orb.MultiLineString{line(m, orb.Point{200, -300}, orb.Point{200, 300})}}, math.NaN()},
			{"an area beside it", work.Work{Areas: orb.MultiPolygon{{square(m, 80, 0, 40)}}}, 30},
			{"an area that holds it, its outline near", work.Work{Areas: orb.MultiPolygon{{square(m, 0, 0, 50)}}}, 0},
			{"an area that holds it, its outline far", work.Work{Areas: orb.MultiPolygon{{square(m, 0, 0, 3000)}}}, 0},
			{"an area that holds it off the middle", work.Work{Areas: orb.MultiPolygon{{square(m, 2000, 2000, 2900)}}}, 0},
			{"an area within it", work.Work{Areas: orb.MultiPolygon{{square(m, 2, 2, 1)}}}, 0},
			{"in the hole of an area", work.Work{Areas: ring(m)}, 50},
			{"a triangle that holds it", work.Work{Areas: orb.MultiPolygon{{orb.Ring(line(m, orb.Point{-2000, -1900}, orb.Point{2000, -1900}, orb.Point{2000, 2100}, orb.Point{-2000, -1900}))}}}, 0},
			// the corner (-10, 10) is |-10 - 10 + 100| / sqrt(2) off the line y = x + 100
			{"a triangle whose box holds it", work.Work{Areas: orb.MultiPolygon{{orb.Ring(line(m, orb.Point{-200, -100}, orb.Point{200, 300}, orb.Point{-200, 300}, orb.Point{-200, -100}))}}}, 80 / math.Sqrt2},
		} {
			c.work.ID = "w"
			got := Find(away([]stand.Stand{box("s", m, 0, 0, survey.Untreated)}, c.work), DefaultSettings(), 1)
			switch {
			case math.IsNaN(c.want) && len(got) > 0:
				t.Errorf("%s, %s: a notice at %g m", name, c.name, float64(got[0].Distance))
			case !math.IsNaN(c.want) && (len(got) != 1 || math.Abs(float64(got[0].Distance)-c.want) > 1e-3 || !got[0].Near || got[0].Upstream):
				t.Errorf("%s, %s: %+v, want %g m", name, c.name, got, c.want)
			}
		}
	}
}

// TestWhoIsTold: which statuses of a stand and ends of a work lead to a notice, by the rule.
func TestWhoIsTold(t *testing.T) {
	m := places["south"]
	end := func(text string) time.Time { d, _ := time.Parse(time.DateOnly, text); return d }
	for _, c := range []struct {
		name   string
		status survey.Status
		end    time.Time
		want   int
	}{
		{"untreated", survey.Untreated, time.Time{}, 1},
		{"resprout", survey.Resprout, time.Time{}, 1},
		{"treated", survey.Treated, time.Time{}, 0},
		{"standing dead", survey.StandingDead, time.Time{}, 0},
		{"over before the quarter", survey.Untreated, end("2026-06-30"), 0},
		{"ends on its first day", survey.Untreated, end("2026-07-01"), 1},
		{"ends years on", survey.Untreated, end("2030-01-01"), 1},
	} {
		// a near outline, and an area with a far outline: both ways to find a stand
		for _, w := range []work.Work{{ID: "w", End: c.end, Points: orb.MultiPoint{at(m, 30, 0)}}, {ID: "w", End: c.end, Areas: orb.MultiPolygon{{square(m, 0, 0, 900)}}}} {
			if got := Find(away([]stand.Stand{box("s", m, 0, 0, c.status)}, w), DefaultSettings(), 1); len(got) != c.want {
				t.Errorf("%s: %+v", c.name, got)
			}
		}
	}
}

// TestUpstream is the truth table of the rule: at the water, a source of fragments (a live stand
// near, or one whose fragments pass), clean water below.
func TestUpstream(t *testing.T) {
	m := places["equator"]
	for _, c := range []struct {
		name                   string
		water                  bool
		near, passing          bool
		clean                  float64
		notices, upstream, far int
	}{
		{"nothing", true, false, false, 2, 0, 0, 0},
		{"no water", false, false, false, 0, 0, 0, 0},
		{"near, away from the water", false, true, false, 0, 1, 0, 0},
		{"near, no clean water", true, true, false, 0, 1, 0, 0},
		{"near, rounding left of clean water", true, true, false, 1e-12, 1, 0, 0},
		{"near, a metre of clean water", true, true, false, 0.001, 1, 0, 0},
		{"near, and a little more", true, true, false, 0.00105, 1, 1, 0},
		{"near and clean water", true, true, false, 2, 1, 1, 0},
		{"passing and clean water", true, false, true, 2, 1, 1, 1},
		{"passing, no clean water", true, false, true, 0, 0, 0, 0},
		{"both", true, true, true, 2, 2, 2, 1},
	} {
		stands := []stand.Stand{box("far", m, 0, 3000, survey.Treated)}
		if c.near {
			stands = append(stands, box("near", m, 50, 0, survey.Untreated))
		}
		site := away(stands, work.Work{ID: "w", Points: orb.MultiPoint{at(m, 0, 0)}})
		site.AtWater[0], site.Onward[0] = c.water, drift.Onward{CleanKm: geo.Kilometers(c.clean), ReachKm: 4}
		if c.passing {
			site.Onward[0].Passing = []int32{0}
		}
		got := Find(site, DefaultSettings(), 1)
		upstream, far := 0, 0
		for _, n := range got {
			if n.Upstream {
				upstream++
			}
			if !n.Near {
				far++
				if d := float64(n.Distance); math.Abs(d-2990) > 1e-3 { // 3000 m less half a stand
					t.Errorf("%s: %g m away", c.name, d)
				}
			}
			if n.AtWater != c.water || n.CleanKm != map[bool]geo.Kilometers{true: geo.Kilometers(c.clean)}[c.water] {
				t.Errorf("%s: %+v", c.name, n)
			}
		}
		if len(got) != c.notices || upstream != c.upstream || far != c.far {
			t.Errorf("%s: %d notices, %d upstream, %d far: %+v", c.name, len(got), upstream, far, got)
		}
	}
}

// TestNearAndPassingIsOneRow: a stand that is near and passes is reported once.
func TestNearAndPassingIsOneRow(t *testing.T) {
	m := places["south"]
	site := away([]stand.Stand{box("s", m, 0, 0, survey.Untreated)}, work.Work{ID: "w", Points: orb.MultiPoint{at(m, 30, 0)}})
	site.AtWater[0], site.Onward[0] = true, drift.Onward{CleanKm: 1, Passing: []int32{0}}
	got := Find(site, DefaultSettings(), 1)
	if len(got) != 1 || !got[0].Near || strings.Join(got[0].Why(), "; ") != "near a live stand; upstream of clean water" {
		t.Errorf("%+v", got)
	}
}

// TestSorted: by start, unknown first, then work id by number, then treatment
// order.
func TestSorted(t *testing.T) {
	m := places["south"]
	near := func(id string, start time.Time) work.Work {
		return work.Work{ID: id, Start: start, Points: orb.MultiPoint{at(m, 0, 0)}}
	}
	soon, late := quarter.End(), quarter.End().AddDate(0, 1, 0)
	site := away([]stand.Stand{box("a", m, 20, 0, survey.Untreated), box("b", m, -20, 0, survey.Untreated)},
		near("W-10", soon), near("W-2", soon), near("W-1", late), near("W-9", time.Time{}))
	site.Treat = []int{7, 3}
	var got []string
	for _, n := range Find(site, DefaultSettings(), 1) {
		got = append(got, site.Works[n.Work].ID+" "+site.Stands[n.Stand].ID)
	}
	if want := []string{"W-9 b", "W-9 a", "W-2 b", "W-2 a", "W-10 b", "W-10 a", "W-1 b", "W-1 a"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestFindProperties: against every pair of work and stand: none farther than the distance is
// reported except by the upstream rule, none within is left out, and order and number of workers
// change nothing.
func TestFindProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m := places[rapid.SampledFrom([]string{"south", "seventy north", "antimeridian"}).Draw(r, "place")]
		metres := rapid.Float64Range(-400, 400)
		var stands []stand.Stand
		for i := range rapid.IntRange(0, 5).Draw(r, "stands") {
			stands = append(stands, box(fmt.Sprint("s", i), m, metres.Draw(r, "x"), metres.Draw(r, "y"), survey.Status(rapid.IntRange(0, 3).Draw(r, "status"))))
		}
		var works []work.Work
		for i := range rapid.IntRange(0, 5).Draw(r, "works") {
			x, y := metres.Draw(r, "wx"), metres.Draw(r, "wy")
			w := work.Work{ID: fmt.Sprint("w", i)}
			switch rapid.IntRange(0, 2).Draw(r, "kind") {
			case 0:
				w.Points = orb.MultiPoint{at(m, x, y)}
			case 1:
				w.Lines = orb.MultiLineString{line(m, orb.Point{x, y}, orb.Point{metres.Draw(r, "x2"), metres.Draw(r, "y2")})}
			default:
				w.Areas = orb.MultiPolygon{{square(m, x, y, rapid.Float64Range(1, 600).Draw(r, "half"))}}
			}
			works = append(works, w)
		}
		site := away(stands, works...)
		for i := range works {
			site.AtWater[i] = rapid.Bool().Draw(r, "water")
			if site.AtWater[i] && len(stands) > 0 {
				site.Onward[i] = drift.Onward{CleanKm: rapid.SampledFrom([]geo.Kilometers{0, 1}).Draw(r, "clean"), Passing: []int32{int32(rapid.IntRange(0, len(stands)-1).Draw(r, "passing"))}}
			}
		}
		s := Settings{Distance: geo.Meters(rapid.Float64Range(0, 300).Draw(r, "distance"))}
		got := Find(site, s, 1)
		told := map[[2]int32]Notice{}
		for _, n := range got {
			told[[2]int32{n.Work, n.Stand}] = n
			if !n.Near && !n.Upstream || n.Near != (Live(&stands[n.Stand]) && n.Distance <= s.Distance) {
				r.Fatalf("%+v", n)
			}
		}
		if len(told) != len(got) {
			r.Fatal("a work and stand come twice")
		}
		for i := range works {
			for k := range stands {
				d := footprintOf(&stands[k]).to(&works[i])
				n, there := told[[2]int32{int32(i), int32(k)}]
				if near := Live(&stands[k]) && d <= s.Distance; near != (there && n.Near) || there && math.Abs(float64(n.Distance-d)) > 1e-9 {
					r.Fatalf("work %d and stand %d are %g m apart, told %v %+v", i, k, float64(d), there, n)
				}
			}
		}
		if again := Find(site, s, 3); !reflect.DeepEqual(got, again) {
			r.Fatalf("%v\n%v", got, again)
		}
		if there := names(site, got); !slices.Equal(there, names(turned(site), Find(turned(site), s, 2))) {
			r.Fatalf("the order of works and stands matters: %q", there)
		}
	})
}

// turned is the site with its works and stands in the opposite order.
func turned(s Site) Site {
	n := len(s.Stands)
	s.Stands, s.Treat, s.Works, s.AtWater, s.Onward = slices.Clone(s.Stands), slices.Clone(s.Treat), slices.Clone(s.Works), slices.Clone(s.AtWater), slices.Clone(s.Onward)
	slices.Reverse(s.Stands)
	slices.Reverse(s.Treat)
	slices.Reverse(s.Works)
	slices.Reverse(s.AtWater)
	slices.Reverse(s.Onward)
	for i := range s.Onward {
		s.Onward[i].Passing = slices.Clone(s.Onward[i].Passing)
		for k, p := range s.Onward[i].Passing {
			s.Onward[i].Passing[k] = int32(n) - 1 - p
		}
	}
	return s
}

func names(s Site, notices []Notice) []string {
	var out []string
	for _, n := range notices {
		out = append(out, fmt.Sprint(s.Works[n.Work].ID, s.Stands[n.Stand].ID, n.Distance, n.Why(), n.CleanKm))
	}
	return out
}

// TestCaution: what a crew is asked to do, for each reason.
func TestCaution(t *testing.T) {
	near, far := Notice{Near: true}, Notice{Upstream: true, AtWater: true}
	if got := near.Caution(); got[0] != GoRound || got[1] != NoCutting || slices.Contains(got, OutOfTheFlow) {
		t.Errorf("near: %q", got)
	}
	if got := far.Caution(); slices.Contains(got, GoRound) || got[len(got)-1] != OutOfTheFlow || !slices.Contains(got, PickUp) {
		t.Errorf("upstream: %q", got)
	}
}

func TestSettingsValidate(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Error(err)
	}
	for _, d := range []float64{-1, math.NaN()} {
		if err := (Settings{Distance: geo.Meters(d)}).Validate(); err == nil {
			t.Errorf("%g m is taken", d)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	m := places["south"]
	var stands []stand.Stand
	var works []work.Work
	for i := range 10_000 {
		x, y := float64(i%100)*300, float64(i/100)*300
		stands = append(stands, box(fmt.Sprint("s", i), m, x, y, survey.Untreated))
		works = append(works, work.Work{ID: fmt.Sprint("w", i), Areas: orb.MultiPolygon{{square(m, x+80, y, 40)}}})
	}
	site := away(stands, works...)
	for b.Loop() {
		if got := Find(site, DefaultSettings(), 2); len(got) != 10_000 {
			b.Fatal(len(got))
		}
	}
}
