package drift

import (
	"math"
	"testing"

	"driftreach/geo/flow"
)

// On one line of order 1, where half settles in 350 m, a unit released 100 m below the top has the
// worth, with base 1, (1 - exp(-k rest)) / k kilometres. A stretch of weight 0 removes its part;
// one of weight 3 with base 0 is three times the integral over it alone; where two overlap the
// larger weight counts. Closed forms.
func TestWorthOnALine(t *testing.T) {
	const length = 2000
	net := network(t, channel{id: "a", from: 1, to: 2, km: length / 1000, order: 1})
	k := math.Ln2 / 350
	s := DefaultSettings()
	released := Released{Stands: 1, Sources: []Source{{Stand: 0, Place: flow.Place{Edge: 0, Offset: 100}, Amount: 2}}}
	over := func(from, to float64) float64 { // of two units let go at 100 m, in km
		return 2 * (math.Exp(-k*(from-100)) - math.Exp(-k*(to-100))) / k / 1000
	}
	all := over(100, length)
	tests := map[string]struct {
		base      float64
		stretches []Weighted
		want      float64
	}{
		"all of it":              {1, nil, all},
		"but for a stretch":      {1, []Weighted{{From: 300, To: 500}}, all - over(300, 500)},
		"a stretch alone":        {0, []Weighted{{From: 300, To: 500, Weight: 3}}, 3 * over(300, 500)},
		"the larger of two":      {0, []Weighted{{From: 300, To: 500, Weight: 3}, {From: 400, To: 600, Weight: 5}}, 3*over(300, 400) + 5*over(400, 600)},
		"one that begins above":  {0, []Weighted{{From: 50, To: 200, Weight: 1}}, over(100, 200)},
		"one that ends above it": {0, []Weighted{{From: 0, To: 90, Weight: 1}}, 0},
	}
	for name, tt := range tests {
		if got := Worth(net, s, released, Factor(tt.base), tt.stretches)[0]; math.Abs(float64(got)-tt.want) > 1e-9*max(1, tt.want) {
			t.Errorf("%s: %g, want %g", name, got, tt.want)
		}
	}
	if got, want := all, Follow(net, released, s, 1).Outcomes[0].Exposure; math.Abs(got-float64(want)) > float64(1e-9*want) {
		t.Errorf("the exposure is %g, by the closed form %g", want, got)
	}
}
