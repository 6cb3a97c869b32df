package estimate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Months until the breast drew in, of 46 women after radiotherapy: D. M. Finkelstein and R. A. Wolfe,
// Biometrics 41 (1985), 933-945, table 4. The masses are those printed by M. P. Fay and P. A. Shaw,
// Journal of Statistical Software 36 (2010), number 2, section 4.
func TestTurnbullAgainstPrint(t *testing.T) {
	inf := math.Inf(1)
	var times []Between
	for _, b := range [][2]float64{
		{45, inf}, {6, 10}, {0, 7}, {46, inf}, {46, inf}, {7, 16}, {17, inf}, {7, 14}, {37, 44}, {0, 8}, {4, 11}, {15, inf}, {11, 15}, {22, inf}, {46, inf}, {46, inf},
		{25, 37}, {46, inf}, {26, 40}, {46, inf}, {27, 34}, {36, 44}, {46, inf}, {36, 48}, {37, inf}, {40, inf}, {17, 25}, {46, inf}, {11, 18}, {38, inf}, {5, 12}, {37, inf},
		{0, 5}, {18, inf}, {24, inf}, {36, inf}, {5, 11}, {19, 35}, {17, 25}, {24, inf}, {32, inf}, {33, inf}, {19, 26}, {37, inf}, {34, inf}, {36, inf},
	} {
		times = append(times, Between{b[0], b[1], 1})
	}
	e, before := NewTurnbull(times), 0.0
	for _, m := range []struct{ from, to, mass float64 }{
		{4, 5, 0.0463}, {6, 7, 0.0334}, {7, 8, 0.0887}, {11, 12, 0.0708}, {24, 25, 0.0926}, {33, 34, 0.0818}, {38, 40, 0.1209}, {46, 48, 0.4656},
	} {
		least, _ := e.By(m.to)
		near(t, "mass", least-before, m.mass, 6e-5)
		_, most := e.By(m.from)
		near(t, "none of it before", most, before, 6e-5)
		before = least
	}
}

// Looks at 1, 2 and 3 make the estimate that of Kaplan and Meier (Journal of the American Statistical
// Association 53 (1958), 457-481): by hand, of five two come by 1, one is last looked at then, of the two
// left one comes by 2: 2/5, then half of the rest.
func TestTurnbullByHand(t *testing.T) {
	inf := math.Inf(1)
	e := NewTurnbull([]Between{{0, 1, 2}, {1, inf, 1}, {1, 2, 1}, {2, inf, 1}})
	for _, tt := range []struct{ at, least, most float64 }{
		{0, 0, 0}, {0.5, 0, 0.4}, {1, 0.4, 0.4}, {1.5, 0.4, 0.7}, {2, 0.7, 0.7}, {2.5, 0.7, 1}, {1e9, 0.7, 1}, {inf, 1, 1},
	} {
		least, most := e.By(tt.at)
		near(t, "least", least, tt.least, 1e-8)
		near(t, "most", most, tt.most, 1e-8)
	}

	// what came by 2 and what came after 2 are two things: a time is after the lower end, and not at it
	e = NewTurnbull([]Between{{0, 2, 1}, {2, 4, 3}})
	least, most := e.By(2)
	near(t, "by 2, at least", least, 0.25, 1e-9)
	near(t, "by 2, at most", most, 0.25, 1e-9)

	// two that overlap are one place for both, and a third beside them is not
	e = NewTurnbull([]Between{{0, 3, 1}, {2, 5, 1}, {7, 8, 2}, {7.5, 9, 0}})
	least, _ = e.By(3)
	_, most = e.By(2)
	near(t, "by 3", least, 0.5, 1e-9)
	near(t, "by 2", most, 0, 1e-9)
	least, _ = e.By(8) // a time of weight nothing does not narrow it
	near(t, "by 8", least, 1, 1e-9)
	_, most = e.By(7.2)
	near(t, "by 7.2, at most", most, 1, 1e-9)

	none := NewTurnbull([]Between{{0, 1, 0}})
	if least, most := none.By(1); least != 0 || most != 0 {
		t.Errorf("no time: %g to %g", least, most)
	}
}

// At the maximum of the likelihood no innermost interval could take more mass with gain: the sum over
// the times of weight / mass of the time's intervals, over the intervals of an innermost one, is the sum
// of weights where it has mass and no more where it has none (R. Gentleman and C. J. Geyer, Biometrika
// 81 (1994), 618-623). Asked of the shares that By tells, at every end of a time.
func TestTurnbullIsTheMostLikely(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times := make([]Between, rapid.IntRange(1, 12).Draw(t, "times"))
		total := 0.0
		for i := range times {
			from := rapid.IntRange(0, 8).Draw(t, "after")
			times[i] = Between{float64(from), float64(from + rapid.IntRange(1, 5).Draw(t, "wide")), float64(rapid.IntRange(1, 3).Draw(t, "weight"))}
			if rapid.IntRange(0, 4).Draw(t, "open") == 0 {
				times[i].By = math.Inf(1)
			}
			total += times[i].Weight
		}
		e := NewTurnbull(times)
		sum := 0.0
		for k, mass := range e.mass {
			sum += mass
			slope := 0.0
			for _, one := range times {
				if e.from[k] < one.After || e.to[k] > one.By {
					continue
				}
				// all mass of the intervals within a time: by its end, less that by its beginning
				within, _ := e.By(one.By)
				before, _ := e.By(one.After)
				slope += one.Weight / (within - before)
			}
			if slope > total*(1+1e-3) || mass > 1e-3 && slope < total*(1-1e-3) {
				t.Errorf("%v: (%g, %g] has mass %g and a slope of %g, that of all is %g", times, e.from[k], e.to[k], mass, slope, total)
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("masses of %g", sum)
		}
	})
}

// One time split into two of half its weight is the same, and so is a factor on all weights.
func TestTurnbullWeights(t *testing.T) {
	inf := math.Inf(1)
	whole := NewTurnbull([]Between{{0, 4, 2}, {2, 6, 1}, {5, 9, 3}, {3, inf, 1}})
	parts := NewTurnbull([]Between{{5, 9, 10}, {0, 4, 5}, {2, 6, 5}, {3, inf, 5}, {0, 4, 5}, {5, 9, 5}})
	for _, at := range []float64{3, 4, 5.5, 6, 9} {
		a, b := whole.By(at)
		c, d := parts.By(at)
		near(t, "least", c, a, 1e-7)
		near(t, "most", d, b, 1e-7)
	}
}
