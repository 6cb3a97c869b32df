package priority

import (
	"math"
	"testing"

	"driftreach/geo"
)

// By hand: of a chain there is one order, so that chance is it: 1 of 3 acres takes 1, 2
// take 3, all take 9; the frontier is the straight line to all, since the last is worth
// most. Of two stands by themselves, of an acre each with 6 and 2, the first half takes 6
// at most and 4 on the mean of both orders.
func TestAgainstByHand(t *testing.T) {
	chain := Against([]Job{
		{Reaches: []int32{1}, Exposure: 1, Acres: 1},
		{Reaches: []int32{2}, Exposure: 2, Acres: 1},
		{Exposure: 6, Acres: 1},
	})
	for acres, want := range map[geo.Acres][2]float64{0: {0, 0}, 0.5: {1.5, 0.5}, 1: {3, 1}, 2: {6, 3}, 3: {9, 9}} {
		if got := At(chain.Frontier, acres); math.Abs(got-want[0]) > 1e-9 {
			t.Errorf("frontier at %g acres is %g, want %g", float64(acres), got, want[0])
		}
		if got := At(chain.Chance, acres); math.Abs(got-want[1]) > 0.05*want[1]+1e-9 { // fifty straight lines
			t.Errorf("chance at %g acres is %g, want %g", float64(acres), got, want[1])
		}
	}
	two := Against([]Job{{Exposure: 6, Acres: 1}, {Exposure: 2, Acres: 1}})
	if got := At(two.Frontier, 1); got != 6 {
		t.Errorf("frontier of two is %g at half, want 6", got)
	}
	if got := At(two.Chance, 1); math.Abs(got-4) > 0.8 { // four standard errors of 100 draws of 6 or 2
		t.Errorf("chance of two is %g at half, want 4", got)
	}
}
