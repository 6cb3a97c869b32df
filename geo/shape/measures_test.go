package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// Derived by hand: a square with a square hole and a second square.
func measured() orb.MultiPolygon {
	return orb.MultiPolygon{
		{orb.Ring{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}, orb.Ring{{4, 4}, {4, 6}, {6, 6}, {6, 4}, {4, 4}}},
		rectangle(20, 0, 5, 5)[0],
	}
}

func TestArea(t *testing.T) {
	within(t, "hole and second square", Area(measured()), 100-4+25, 1e-15)
	clockwise := orb.MultiPolygon{{orb.Ring{{0, 0}, {0, 10}, {10, 10}, {10, 0}, {0, 0}}}}
	within(t, "clockwise", Area(clockwise), 100, 1e-15)
	within(t, "far from the origin", Area(rectangle(5e6, 7e6, 1, 1)), 1, 1e-12)
	within(t, "nothing", Area(nil), 0, 0)
}

func TestContains(t *testing.T) {
	for _, c := range []struct {
		name string
		p    orb.Point
		want bool
	}{
		{"inside", orb.Point{2, 2}, true},
		{"level with vertices", orb.Point{5, 2}, true},
		{"level with the hole's vertices", orb.Point{2, 4}, true},
		{"in the hole", orb.Point{5, 5}, false},
		{"on the hole's edge", orb.Point{4, 5}, true},
		{"on the hole's corner", orb.Point{6, 6}, true},
		{"on an upright edge", orb.Point{0, 7}, true},
		{"on a level edge", orb.Point{7, 10}, true},
		{"on a corner", orb.Point{10, 10}, true},
		{"in line with an edge", orb.Point{-3, 10}, false},
		{"in the second", orb.Point{22, 3}, true},
		{"between the two", orb.Point{15, 3}, false},
		{"above", orb.Point{5, 11}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Contains(measured(), c.p); got != c.want {
				t.Errorf("%v", got)
			}
		})
	}
}

func TestDistanceToLine(t *testing.T) {
	for _, c := range []struct {
		name string
		l    orb.LineString
		want float64
	}{
		{"inside", orb.LineString{{1, 1}, {2, 2}}, 0},
		{"through", orb.LineString{{-5, 5}, {15, 5.5}}, 0},
		{"touching a corner", orb.LineString{{-5, 15}, {5, 5 + 10}, {10, 10}}, 0},
		{"in the hole", orb.LineString{{5, 4.5}, {5, 5}}, 0.5},
		{"one place in the hole", orb.LineString{{5, 5}}, 1},
		{"beside an edge", orb.LineString{{-3, -5}, {-3, 20}}, 3},
		{"off a corner", orb.LineString{{13, 14}, {13, 30}}, 5},
		{"end near an edge", orb.LineString{{30, 4}, {40, 4}}, 5},
		{"between the two", orb.LineString{{14, -1}, {14, 11}}, 4},
		{"one place", orb.LineString{{0, 12}}, 2},
		{"no place", nil, math.Inf(1)},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := float64(DistanceToLine(measured(), c.l)); got != c.want {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}

// The same bytes for any number of workers and any order; separate groups stay separate.
func TestUnionHangsOnNothingElse(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	var parts []orb.MultiPolygon
	for range 60 {
		parts = append(parts, rectangle(float64(rng.IntN(300)), float64(rng.IntN(300)), float64(5+rng.IntN(40)), float64(5+rng.IntN(40))))
	}
	want := Union(parts, 1)
	mustBeNormal(t, want)
	for _, workers := range []int{0, 2, 8} {
		rng.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
		if !orb.Equal(want, Union(parts, workers)) {
			t.Errorf("another result for %d workers", workers)
		}
	}
}

// Derived by hand: a gap of 2 between squares is closed by a gap of 3, except for the parts at its
// two mouths that a disc of radius 1.5 can enter.
func TestClosing(t *testing.T) {
	two := append(rectangle(0, 0, 10, 10), rectangle(12, 0, 10, 10)...)
	// The mouth's disc touches both corners: its segment over the chord of 2.
	const r = 1.5
	segment := r*r*math.Asin(1/r) - math.Sqrt(r*r-1)
	within(t, "closed", Area(Closing(two, 3)), 220-2*segment, 1e-4)
	within(t, "too wide", Area(Closing(two, 1.9)), 200, 1e-9)
	within(t, "no gap", Area(Closing(two, 0)), 200, 1e-15)
}

func TestMakeValidKeepsWhatIsValid(t *testing.T) {
	got, changed := MakeValid(measured())
	if changed || !orb.Equal(got, normalize(measured())) {
		t.Errorf("changed %v: %v", changed, got)
	}
	eight := orb.MultiPolygon{{orb.Ring{{0, 0}, {10, 10}, {10, 0}, {0, 10}, {0, 0}}}}
	got, changed = MakeValid(eight)
	if !changed {
		t.Error("figure of eight not reported")
	}
	within(t, "both halves", Area(got), 50, 1e-12) // derived by hand: two triangles of 10 by 5
}
