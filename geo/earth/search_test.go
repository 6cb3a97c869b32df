package earth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// TestAnyStartFindsTheGeodesic: the search finds the same geodesic from any starting azimuth, by
// Newton's steps or, if these leave the bracket, by bisection.
func TestAnyStartFindsTheGeodesic(t *testing.T) {
	random := rand.New(rand.NewPCG(181, 182))
	for range 300 {
		p := orb.Point{0, -85 * random.Float64()}
		q := orb.Point{1 + 178*random.Float64(), p[1] + (math.Abs(p[1])*2)*random.Float64()}
		var want inverseProblem
		want.canonical(wgs84Geodesic, p, q)
		if sig12, _ := want.start(); sig12 >= 0 {
			continue
		}
		a, eps, _ := want.newton()
		length := want.distance(eps, a) * want.b
		for _, start := range []float64{0.01, 20, 60, 90, 120, 160, 179.99} {
			var got inverseProblem
			got.canonical(wgs84Geodesic, p, q)
			got.salp1, got.calp1 = math.Sincos(rad(start))
			a, eps, _ := got.newton()
			name := fmt.Sprintf("%v to %v from %v degrees", p, q, start)
			near(t, name+": length", got.distance(eps, a)*got.b, length, 1e-6)
			near(t, name+": azimuth", math.Atan2(got.salp1, got.calp1), math.Atan2(want.salp1, want.calp1), 1e-7)
		}
	}
}

// TestExactDifferences: by hand: differences of longitude, positive eastward. A difference of 180
// has the sign of to - from.
func TestExactDifferences(t *testing.T) {
	for _, c := range []struct{ from, to, want float64 }{
		{0, 0, 0}, {10, 30, 20}, {30, 10, -20}, {170, -170, 20}, {-170, 170, -20}, {0, 180, 180}, {180, 0, -180}, {-180, 180, 0}, {350, 10, 20}, {-90, 90, 180}, {90, -90, -180},
	} {
		if d, lost := exactDifference(c.from, c.to); d != c.want || lost != 0 {
			t.Errorf("from %v to %v: %v and %v, want %v", c.from, c.to, d, lost, c.want)
		}
	}
	if sum, rest := twoSum(1e16, 1); sum != 1e16 || rest != 1 {
		t.Errorf("1e16 and 1: %v and %v", sum, rest)
	}
	if sum, rest := twoSum(0.1, 0.2); sum != 0.30000000000000004 || rest != -0x1p-55 { // half a unit in the last place of the sum
		t.Errorf("0.1 and 0.2: %v and %v", sum, rest)
	}
	for x, want := range map[float64]float64{0: 0, 1e-20: 0, -1e-20: 0, 0.05: 0.05, 0.0625: 0.0625, 30: 30, -45: -45} {
		if got := rounded(x); math.Abs(got-want) > 1e-17 {
			t.Errorf("%v: %v", x, got)
		}
	}
}

// TestCutsMirrored: cutting at the antimeridian and then mirroring or reversing gives the same as
// mirroring or reversing and then cutting: the same areas, holes and lengths of all pieces.
func TestCutsMirrored(t *testing.T) {
	random := rand.New(rand.NewPCG(191, 192))
	sizes := func(mp orb.MultiPolygon) (out []float64) {
		for _, p := range mp {
			out = append(out, float64(geo.PolygonArea(orb.MultiPolygon{p}))+1000*float64(len(p)-1))
		}
		slices.Sort(out)
		return out
	}
	for range 150 {
		var ring orb.Ring
		n := 3 + random.IntN(12)
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := 1 + 4*random.Float64()
			ring = append(ring, orb.Point{180 + r*c, 20 + r*s})
		}
		p := orb.Polygon{append(ring, ring[0]), rectangle(179.8, 19.8, 180.1, 20.1)}
		mirror := func(p orb.Polygon) orb.Polygon {
			out := p.Clone()
			for _, r := range out {
				for i := range r {
					r[i][0] = -r[i][0]
				}
			}
			return out
		}
		turn := p.Clone()
		for _, r := range turn {
			slices.Reverse(r)
		}
		want := sizes(CutPolygon(orb.MultiPolygon{p}))
		for name, other := range map[string]orb.Polygon{"mirrored": mirror(p), "turned round": turn, "a turn on": TurnedArea(p, 360), "two turns back": TurnedArea(p, -720)} {
			got := sizes(CutPolygon(orb.MultiPolygon{other}))
			if len(got) != len(want) {
				t.Fatalf("%s: pieces %v, want %v", name, got, want)
			}
			for i := range got {
				near(t, name, got[i], want[i], 1e-9)
			}
		}
		line := orb.LineString(p[0])
		forth := CutLine(line)
		back := slices.Clone(line)
		slices.Reverse(back)
		undone := CutLine(back)
		slices.Reverse(undone)
		if len(undone) != len(forth) {
			t.Fatalf("a line back: %d pieces, %d", len(undone), len(forth))
		}
		for i := range undone {
			slices.Reverse(undone[i])
			near(t, "a piece back", plainLength(undone[i]), plainLength(forth[i]), 1e-9)
		}
	}
}

// TestStraightSidesInSteps: a side of 2.5 steps is split into three, a side of exactly two steps
// into two, and a short side not at all; by hand.
func TestStraightSidesInSteps(t *testing.T) {
	f := NewFrame(orb.Point{10, 45})
	for _, c := range []struct {
		side float64
		n    int
	}{{2.5, 3}, {2, 2}, {1, 1}, {0.4, 1}, {2.0001, 3}} {
		ring := orb.Ring{{10, 45}, {10 + c.side/1000, 45}, {10, 45}}
		got := f.ProjectStraight(orb.MultiPolygon{{ring}}, 1e-3)[0][0]
		if len(got) != 2*c.n+1 && !(c.side == 2 || c.side == 1) { // for a whole number of steps, rounding decides
			t.Errorf("a side of %v steps: %d places, want %d", c.side, len(got), 2*c.n+1)
		}
		for i, p := range got[:c.n] {
			back := f.Inverse(p)
			if len(got) == 2*c.n+1 {
				near(t, "equal parts", back[0], 10+c.side/1000*float64(i)/float64(c.n), 1e-12)
			}
			near(t, "on the parallel", back[1], 45, 1e-12)
		}
	}
}
