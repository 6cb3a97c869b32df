package report

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/result"
	"driftreach/internal/stand"
)

// By hand: a zigzag of one step keeps its ends, one of three steps its corners.
func TestThinned(t *testing.T) {
	flat := []dot{{0, 0}, {10, 1}, {20, 0}, {30, 1}, {40, 0}}
	if got := thinned(slices.Clone(flat), 1); !slices.Equal(got, []dot{{0, 0}, {40, 0}}) {
		t.Errorf("%v", got)
	}
	steep := []dot{{0, 0}, {10, 3}, {20, 0}}
	if got := thinned(slices.Clone(steep), 1); !slices.Equal(got, steep) {
		t.Errorf("%v", got)
	}
}

// East is right, north is up, and the scale is correct: the geodesic distance of two places
// (geo/earth's own tests compare it with GeographicLib) equals their distance on the grid, to half
// a step at both ends.
func TestViewIsTrue(t *testing.T) {
	run := invented(9, 3, []string{"Side Water"})
	v := newView(run, 700)
	a, b := orb.Point{20.002, 10.003}, orb.Point{20.03, 10.025}
	p, q := v.at(a), v.at(b)
	if q.x <= p.x || q.y >= p.y {
		t.Errorf("%v is not left and below %v", p, q)
	}
	drawn := math.Hypot(float64(q.x-p.x), float64(q.y-p.y))
	if want := float64(earth.Distance(a, b)) * v.scale; math.Abs(drawn-want) > math.Sqrt2 {
		t.Errorf("%v steps, want %v", drawn, want)
	}
	for i := range run.Stands {
		if d := v.at(run.Stands[i].Center); !v.inside(d, 0) {
			t.Errorf("stand at %v of %d x %d", d, v.width, v.height)
		}
	}
}

// A map across the antimeridian is as wide as the same map elsewhere.
func TestViewAcrossTheAntimeridian(t *testing.T) {
	at := func(lon float64) view {
		run := &result.Run{}
		for _, d := range []float64{-0.01, 0, 0.02} {
			x := lon + d
			if x >= 180 {
				x -= 360
			}
			run.Stands = append(run.Stands, result.Stand{Stand: stand.Stand{Center: orb.Point{x, -17}}})
		}
		return newView(run, 700)
	}
	here, there := at(20), at(179.995)
	if here.height != there.height || math.Abs(here.scale-there.scale) > 1e-9*here.scale {
		t.Errorf("%+v and %+v", here, there)
	}
}

// The scale bar has its stated length: 2 km on a map of 700 pixels.
func TestRoundLength(t *testing.T) {
	for x, want := range map[float64]float64{7.3: 5, 5: 5, 4.9: 2, 2: 2, 1.99: 1, 0.73: 0.5, 123: 100, 0.0021: 0.002} {
		if got := roundLength(x); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v: %v, want %v", x, got, want)
		}
	}
}

// Each piece of line is drawn once, in whichever direction it is given, and a layer never exceeds
// its limit.
func TestTracerDrawsOnce(t *testing.T) {
	v := newView(invented(4, 2, []string{"Side Water"}), 700)
	line := orb.LineString{{20.001, 10.001}, {20.005, 10.004}, {20.009, 10.001}}
	once := newTracer(&v)
	once.add(line)
	twice := newTracer(&v)
	twice.add(line)
	back := slices.Clone(line)
	back.Reverse()
	twice.add(back)
	if once.path() == "" || once.path() != twice.path() {
		t.Errorf("%q and %q", once.path(), twice.path())
	}
	many := newTracer(&v)
	for k := range 40_000 {
		x, y := 20+0.02*math.Mod(float64(k)*0.618, 1), 10+0.02*math.Mod(float64(k)*0.377, 1)
		many.add(orb.LineString{{x, y}, {x + 0.004, y + 0.003}})
	}
	if n := len(many.path()); n == 0 || n > mostLineBytes {
		t.Errorf("%d bytes", n)
	}
}

// The shape distinguishes zone from upland: circles are arcs, squares are not. Every stand is drawn
// or counted as left out.
func TestMarksTellZoneByShape(t *testing.T) {
	if circle := string(appendMark(nil, dot{50, 50}, 10, true)); strings.Count(circle, "a") != 2 {
		t.Error(circle)
	}
	if square := string(appendMark(nil, dot{50, 50}, 10, false)); square != "M41 41h18v18h-18z" {
		t.Error(square)
	}
	run := invented(30, 40, []string{"Side Water"})
	v := newView(run, 300)
	drawn := 0
	for _, kind := range standKinds() {
		marks, hidden := standMarks(&v, run, kind, largestInfested(run))
		drawn += len(marks) + hidden
		for _, m := range marks {
			if kindOf(&run.Stands[m.stand]) != kind {
				t.Errorf("%+v drawn as %+v", run.Stands[m.stand].ID, kind)
			}
		}
	}
	if drawn != len(run.Stands) {
		t.Errorf("%d of %d stands", drawn, len(run.Stands))
	}
}

// Numbers do not cover each other or stands.
func TestNumbersKeepApart(t *testing.T) {
	run := invented(2, 10, []string{"Side Water"})
	m := &mapDrawing{view: newView(run, widePixels)}
	m.drawStands(run)
	before := len(m.taken)
	c := composer{run: run}
	c.chosen = c.firstToTreat()
	m.drawNumbers(&c)
	for i := before; i < len(m.taken); i++ {
		for j := range i {
			if m.taken[i].meets(m.taken[j]) {
				t.Errorf("%v over %v", m.taken[i], m.taken[j])
			}
		}
	}
	if len(m.taken) != before+len(c.chosen) {
		t.Errorf("%d numbers for %d stands", len(m.taken)-before, len(c.chosen))
	}
}

// The least order drawn is found as fast for orders far apart as for consecutive ones.
func TestLeastOrderDrawn(t *testing.T) {
	for _, c := range []struct {
		long map[int]float64
		top  int
		most float64
		want int
	}{
		{map[int]float64{1: 50, 2: 30, 3: 10}, 3, 45, 2},
		{map[int]float64{1: 50, 2: 30, 3: 10}, 3, 90, 1},
		{map[int]float64{1: 50, 5: 10}, 5, 45, 2}, // there are no lines of order 4, 3 and 2
		{map[int]float64{3: 90}, 3, 45, 1},
		{map[int]float64{1: 1, 2147483647: 1}, 2147483647, 45, 1},
		{map[int]float64{7: 90, 2147483647: 1}, 2147483647, 45, 8},
		{nil, 1, 45, 1},
	} {
		if got := leastOrder(c.long, c.top, c.most); got != c.want {
			t.Errorf("%v, %g: %d, want %d", c.long, c.most, got, c.want)
		}
	}
}
