package learn

import (
	"math"
	"testing"

	"driftreach/internal/drift"
	"driftreach/internal/estimate"
)

// The half-distance from looks of which some cover one quarter, some three and some one bank, by
// another way to the same model: each row written out with what floats past its cell, down and up, from
// the stands of each quarter, and with its kilometres times its quarters.
func TestDistanceCountsQuartersAndBanks(t *testing.T) {
	c := creek(t)
	first, second, third := map[int]int{}, map[int]int{}, map[int]int{}
	for cell := range 20 {
		first[cell] = 3
		if cell%2 == 0 {
			second[cell] = 1 + cell%4 // the left bank alone, or both
		}
		third[cell] = 3
	}
	c.add(t, 2026, 1, first, 1)
	c.add(t, 2026, 2, second, 2)
	c.add(t, 2027, 1, third, 1)
	looks, rules, o := c.looks(), c.Batches[0].Rules.Drift, DefaultOptions()
	o.Draws = 19
	want := estimate.Spreading{Scales: steps(), Draws: 19, Seed: o.Seed, Counts: make([]float64, len(looks)), Ground: make([]float64, len(looks))}
	var arrivals []Arrival
	for i, l := range looks {
		for range (7 * i) % 3 {
			arrivals = append(arrivals, Arrival{Kind: Miss, Look: int32(i)})
			want.Counts[i]++
		}
		quarters := map[[2]int32]float64{{0, 1}: 1, {1, 2}: 3, {0, 2}: 4}[[2]int32{l.since, l.now}]
		want.Ground[i] = 0.05 * l.banks * quarters
	}
	for _, factor := range steps() {
		var down, up []float64
		for _, l := range looks {
			var d, u float64
			for q := l.since; q < l.now; q++ {
				scaled, weight := rules.Scaled(drift.Factor(factor)), []float64{1, 3}[q]*l.banks
				afloat := drift.Afloat(c.Net, c.Batches[q].released, scaled)
				d += weight * float64(afloat.ExposureOn(c.Net, c.Grid.Pieces())[l.cell])
				u += weight * float64(drift.Against(c.Net, c.Batches[q].released, scaled, c.Grid.Pieces())[l.cell])
			}
			down, up = append(down, d), append(up, u)
		}
		want.Down, want.Up = append(want.Down, down), append(want.Up, up)
	}
	got, err := c.distance(t.Context(), looks, arrivals, rules, o, 2)
	if err != nil || got.Counted != len(arrivals) {
		t.Fatalf("%d counted, %v", got.Counted, err)
	}
	scale := want.Estimate()
	for i := range scale.Profile {
		if math.Abs(got.Scale.Profile[i]-scale.Profile[i]) > 1e-6 {
			t.Errorf("factor %g: %g below the best, want %g", got.Scales[i], got.Scale.Profile[i], scale.Profile[i])
		}
	}
	for what, pair := range map[string][2]float64{
		"ground": {got.Scale.Ground, scale.Ground}, "either": {got.Scale.Either, scale.Either}, "down": {got.Scale.Directed, scale.Directed}, "p": {got.Scale.P, scale.P}, "needed": {got.Needed, want.Needed(12)},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-4 && pair[0] != pair[1] {
			t.Errorf("%s: %g, want %g", what, pair[0], pair[1])
		}
	}
	for i := range want.Ground {
		want.Ground[i] = 1
	}
	if other := want.Estimate().Profile[0]; math.Abs(other-scale.Profile[0]) < 0.1 {
		t.Errorf("with even ground it is %g too: the test would tell nothing of it", other)
	}
}

// The lines of the page's map are the streams, and the reaches at risk of the last batch but one; of a
// single batch its own. By hand: only the second of three batches has a stand that releases.
func TestLinesOfTheMap(t *testing.T) {
	c := creek(t)
	none := c.add(t, 2026, 1, nil, 1)
	none.drift = drift.Drift{}
	atRisk := func() (n int) {
		lines := c.lines()
		if lines[0].Class != "water" || len(lines[0].Path) != 2 {
			t.Errorf("first %+v", lines[0])
		}
		for _, line := range lines[1:] {
			if line.Class != "low" && line.Class != "moderate" && line.Class != "high" || len(line.Path) < 2 {
				t.Errorf("%+v", line)
			}
			n++
		}
		return n
	}
	if n := atRisk(); n != 0 {
		t.Errorf("%d reaches of a batch without any", n)
	}
	c.add(t, 2026, 2, nil, 1)
	if n := atRisk(); n != 0 {
		t.Errorf("%d reaches, and the last batch but one has none", n)
	}
	last := c.add(t, 2026, 3, nil, 1)
	last.drift = drift.Drift{}
	if n := atRisk(); n == 0 {
		t.Error("no reach of the last batch but one")
	}
}
