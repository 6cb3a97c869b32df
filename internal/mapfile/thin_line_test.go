package mapfile

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// TestThinStaysNear: for random winding lines anywhere, no dropped vertex is farther than the
// tolerance from the remaining line.
func TestThinStaysNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		center := orb.Point{rapid.Float64Range(-179, 179).Draw(t, "lon"), rapid.Float64Range(-80, 80).Draw(t, "lat")}
		n := rapid.IntRange(3, 200).Draw(t, "n")
		ring := make(orb.Ring, 0, n)
		for k := range n {
			a, r := 2*math.Pi*float64(k)/float64(n), rapid.Float64Range(0.9e-4, 1.1e-4).Draw(t, "r")
			ring = append(ring, orb.Point{center[0] + r*math.Cos(a), center[1] + r*math.Sin(a)})
		}
		full := ringOf(ring, true)
		var th thinner
		thin := th.line(full)
		if thin[0] != full[0] || thin[len(thin)-1] != full[len(full)-1] || len(thin) > len(full) {
			t.Fatalf("%d of %d vertices", len(thin), len(full))
		}
		squeeze := math.Cos(full[0].lat() * math.Pi / 180)
		for _, p := range full {
			if d := distanceTo(p, thin, squeeze); d > thinTolerance*1.0001 {
				t.Fatalf("%v lies %.3f m off", p, d)
			}
		}
	})
}

// distanceTo returns the distance in metres from p to the nearest segment.
func distanceTo(p place, path []place, squeeze float64) float64 {
	best := math.Inf(1)
	for i := 1; i < len(path); i++ {
		ax, ay := float64(path[i-1][0]-p[0])*squeeze, float64(path[i-1][1]-p[1])
		bx, by := float64(path[i][0]-p[0])*squeeze, float64(path[i][1]-p[1])
		dx, dy := bx-ax, by-ay
		s := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			s = math.Max(0, math.Min(1, -(ax*dx+ay*dy)/l))
		}
		best = math.Min(best, math.Hypot(ax+s*dx, ay+s*dy))
	}
	return best * metersPerStep
}

// TestThinDropsWhatIsStraight: a bend within the tolerance is dropped, a larger one is kept.
func TestThinDropsWhatIsStraight(t *testing.T) {
	var th thinner
	if got := th.line([]place{{0, 0}, {50, 1}, {100, 0}}); len(got) != 2 {
		t.Errorf("%v, want the ends: 1 step is 1 cm", got)
	}
	if got := th.line([]place{{0, 0}, {50, 19}, {100, 0}}); len(got) != 3 {
		t.Errorf("%v, want the bend kept: 19 steps are 21 cm", got)
	}
}
