package webmap

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// placed adds the steps up again, as the page does.
func placed(steps []int) [][2]int {
	var out [][2]int
	x, y := 0, 0
	for i := 0; i < len(steps); i += 2 {
		x, y = x+steps[i], y+steps[i+1]
		out = append(out, [2]int{x, y})
	}
	return out
}

// By hand: from 10 E, 50 N. The vertex six steps off the chord of the ends stays and divides the line;
// the other two, 1 and 4 steps off their chords, are left out. So are places that are no numbers.
func TestLineByHand(t *testing.T) {
	g := grid{origin: orb.Point{10, 50}}
	line := orb.LineString{{10, 50}, {10.0001, 50.000003}, {10.0002, 50}, {math.NaN(), 50}, {10.0003, 50.000006}, {10.0004, 50}}
	got := placed(g.line(line))
	want := [][2]int{{0, 0}, {300, 6}, {400, 0}}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%v, want %v", got, want)
		}
	}
	across := grid{origin: orb.Point{179.99, 0}}
	if at := across.at(orb.Point{-179.99, 0}); at != (orb.Point{20000, 0}) {
		t.Errorf("across 180 degrees: %v", at)
	}
	if at := g.place(orb.Point{math.Inf(1), 0}); len(at) != 0 {
		t.Errorf("no place: %v", at)
	}
}

// Every vertex left out lies within the tolerance of the line kept, and both ends stay.
func TestThinnedKeepsTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var path [][2]int
		var line []orb.Point
		for range rapid.IntRange(2, 40).Draw(t, "vertices") {
			p := [2]int{rapid.IntRange(-60, 60).Draw(t, "x"), rapid.IntRange(-60, 60).Draw(t, "y")}
			path, line = append(path, p), append(line, orb.Point{float64(p[0]) / steps, float64(p[1]) / steps})
		}
		kept := placed((&grid{}).line(line))
		if kept[0] != path[0] || kept[len(kept)-1] != path[len(path)-1] {
			t.Fatalf("the ends of %v moved: %v", path, kept)
		}
		for _, p := range path {
			near := math.Inf(1)
			for i := 1; i < len(kept); i++ {
				near = min(near, toSegment(p, kept[i-1], kept[i]))
			}
			if near > thin+1e-9 {
				t.Fatalf("%v lies %v off %v", p, near, kept)
			}
		}
	})
}

// toSegment is the distance to a segment, by projecting on it.
func toSegment(p, a, b [2]int) float64 {
	ax, ay, bx, by := float64(a[0]), float64(a[1]), float64(b[0]), float64(b[1])
	px, py := float64(p[0]), float64(p[1])
	u := 0.0
	if long := (bx-ax)*(bx-ax) + (by-ay)*(by-ay); long > 0 {
		u = min(1, max(0, ((px-ax)*(bx-ax)+(py-ay)*(by-ay))/long))
	}
	return math.Hypot(px-ax-u*(bx-ax), py-ay-u*(by-ay))
}
