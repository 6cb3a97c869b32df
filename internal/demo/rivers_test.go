package demo

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestStreamsNeverCross(t *testing.T) {
	for _, seed := range seeds {
		lines := settle(seed).lines
		for i := range lines {
			for j := i; j < len(lines); j++ {
				if at, crosses := crossingOf(lines[i].path, lines[j].path, i == j); crosses {
					t.Errorf("seed %d: %s and %s cross near %v", seed, lines[i].id, lines[j].id, degrees(at))
				}
			}
		}
	}
}

// crossingOf returns where two courses cross: it tests every pair of segments without a common end.
func crossingOf(a, b []orb.Point, same bool) (orb.Point, bool) {
	for i := 1; i < len(a); i++ {
		first := 1
		if same {
			first = i + 2
		}
		for j := first; j < len(b); {
			// Segments are about vertexStep long, so segments far away are skipped.
			if d := span(a[i], b[j]); d > 4*vertexStep {
				j += max(1, int(d/(2*vertexStep))-1)
				continue
			}
			if properlyCross(a[i-1], a[i], b[j-1], b[j]) {
				return a[i], true
			}
			j++
		}
	}
	return orb.Point{}, false
}

func properlyCross(p, q, r, s orb.Point) bool {
	turn := func(a, b, c orb.Point) float64 {
		return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
	}
	return turn(p, q, r)*turn(p, q, s) < 0 && turn(r, s, p)*turn(r, s, q) < 0
}

func TestStreamsHaveTheirPlannedLength(t *testing.T) {
	for _, seed := range seeds {
		sum, planned := 0.0, 0.0
		for _, c := range settle(seed).courses {
			sum, planned = sum+c.length()/1000, planned+c.km
			// In a narrow valley a stream may end short, but it exists.
			if c.length() < 600 {
				t.Errorf("seed %d: %s is only %.0f m long", seed, c.name, c.length())
			}
		}
		if sum < 0.93*planned || sum > 1.05*planned {
			t.Errorf("seed %d: %.1f km of stream, planned %.1f", seed, sum, planned)
		}
	}
}

// A sine-generated curve of swing w has the sinuosity 1/J0(w) (Langbein and Leopold 1966). With
// equal swings this is the length of the path divided by that of its valley.
func TestMeanderHasTheSinuosityOfItsSwing(t *testing.T) {
	const swing = 1.0
	r := rand.New(rand.NewPCG(1, 1))
	var along, across float64
	for range 200 {
		axis, at := 0.0, orb.Point{}
		path := meander(r, at, axis, 4000, [2]float64{swing, swing})
		along += float64(len(path)-1) * vertexStep
		// Valleys wind too: chords over four bends measure the valley's own length.
		const chord = 32
		for i := chord; i < len(path); i += chord {
			across += span(path[i-chord], path[i])
		}
		along -= float64((len(path)-1)%chord) * vertexStep
	}
	want := 1 / math.J0(swing)
	if got := along / across; math.Abs(got/want-1) > 0.06 {
		t.Errorf("sinuosity %.3f, want %.3f", got, want)
	}
}

func TestMeanderKeepsItsStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		length := rapid.Float64Range(300, 9000).Draw(t, "length")
		path := meander(r, orb.Point{}, 0.3, length, [2]float64{0.2, 1.2})
		for i := 1; i < len(path); i++ {
			if d := span(path[i-1], path[i]); math.Abs(d-vertexStep) > 1e-6 {
				t.Fatalf("step of %g m", d)
			}
		}
		if long := float64(len(path)-1) * vertexStep; long < length || long > length+800 {
			t.Fatalf("%g m long, asked for %g", long, length)
		}
	})
}

func TestCourseAtWalksTheArc(t *testing.T) {
	// Derived by hand: 30 m east, then 40 m north; grown upstream.
	c := newCourse(plan{}, []orb.Point{{30, 40}, {30, 0}, {0, 0}})
	if c.length() != 70 {
		t.Fatalf("length %g, want 70", c.length())
	}
	for _, tc := range []struct {
		name    string
		down    float64
		at      orb.Point
		heading float64
	}{
		{"source", 0, orb.Point{0, 0}, 0},
		{"first leg", 12, orb.Point{12, 0}, 0},
		{"second leg", 40, orb.Point{30, 10}, math.Pi / 2},
		{"mouth", 70, orb.Point{30, 40}, math.Pi / 2},
	} {
		at, heading := c.at(tc.down)
		if span(at, tc.at) > 1e-9 || math.Abs(heading-tc.heading) > 1e-12 {
			t.Errorf("%s: at %v heading %g", tc.name, at, heading)
		}
	}
}
