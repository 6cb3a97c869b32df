package priority

import (
	"math"
	"slices"
	"testing"

	"driftreach/geo"
)

// By hand: a chain has one order, so chance equals it: 1 of 3 acres removes 1, 2 remove 3, all
// remove 9; the frontier is the straight line to all, since the last stand has the highest exposure
// per acre. Of two independent stands of an acre each, with 6 and 2, the first half removes at most
// 6, and 4 on average over both orders.
func TestAgainstByHand(t *testing.T) {
	chain := Against([]Job{
		{Reaches: []int32{1}, Exposure: 1, Acres: 1},
		{Reaches: []int32{2}, Exposure: 2, Acres: 1},
		{Exposure: 6, Acres: 1},
	})
	for acres, want := range map[geo.Acres][2]float64{0: {0, 0}, 0.5: {1.5, 0.5}, 1: {3, 1}, 2: {6, 3}, 3: {9, 9}} {
		if got := At(chain.Frontier, acres); math.Abs(float64(got)-want[0]) > 1e-9 {
			t.Errorf("frontier at %g acres is %g, want %g", float64(acres), got, want[0])
		}
		if got := At(chain.Chance, acres); math.Abs(float64(got)-want[1]) > 0.05*want[1]+1e-9 { // fifty straight lines
			t.Errorf("chance at %g acres is %g, want %g", float64(acres), got, want[1])
		}
	}
	two := Against([]Job{{Exposure: 6, Acres: 1}, {Exposure: 2, Acres: 1}})
	if got := At(two.Frontier, 1); got != 6 {
		t.Errorf("frontier of two is %g at half, want 6", got)
	}
	if got := At(two.Chance, 1); math.Abs(float64(got-4)) > 0.8 { // four standard errors of 100 draws of 6 or 2
		t.Errorf("chance of two is %g at half, want 4", got)
	}
}

// By hand: on the points themselves, between them, at a step upright, past the last.
func TestAt(t *testing.T) {
	points := []Point{{0, 1}, {2, 5}, {2, 7}, {4, 8}}
	for acres, want := range map[geo.Acres]float64{0: 1, 0.5: 2, 1: 3, 2: 5, 3: 7.5, 4: 8, 4.5: 8, 100: 8} {
		if got := At(points, acres); float64(got) != want {
			t.Errorf("%g at %g acres, want %g", got, float64(acres), want)
		}
	}
}

// A chain has one order, so the mean of all draws is that order: at each of the fifty steps the
// stands done by then, and of the stand in progress the share of its acres.
func TestChanceOfAChain(t *testing.T) {
	jobs := []Job{
		{Reaches: []int32{1}, Exposure: 1, Acres: 0.3},
		{Reaches: []int32{2}, Exposure: 7, Acres: 1.1},
		{Reaches: []int32{3}, Exposure: 0, Acres: 0.25},
		{Exposure: 4, Acres: 0.85},
	}
	got := Against(jobs).Chance
	if len(got) != 51 {
		t.Fatalf("%d points", len(got))
	}
	for k, p := range got {
		acres := 2.5 * float64(k) / 50
		done, left := 0.0, acres
		for _, j := range jobs {
			part := min(1, max(0, left/float64(j.Acres)))
			done, left = done+part*float64(j.Exposure), left-float64(j.Acres)
		}
		if math.Abs(float64(p.Acres)-acres) > 1e-12 || math.Abs(float64(p.Exposure)-done) > 1e-9 {
			t.Errorf("%v acres take %v, want %v and %v", p.Acres, p.Exposure, acres, done)
		}
	}
}

// A stand already treated has no acres and no exposure: first, in between and last in a chain, it
// does not change the curve.
func TestChanceOfWhatWasTreated(t *testing.T) {
	want := Against([]Job{{Reaches: []int32{1}, Exposure: 3, Acres: 2}, {Exposure: 5, Acres: 1}}).Chance
	got := Against([]Job{{Reaches: []int32{1}}, {Reaches: []int32{2}, Exposure: 3, Acres: 2}, {Reaches: []int32{3}}, {Reaches: []int32{4}, Exposure: 5, Acres: 1}, {}}).Chance
	if !slices.Equal(got, want) || want[50].Exposure < 7.999 {
		t.Errorf("%v, without them %v", got, want)
	}
	for _, p := range Against([]Job{{}, {}}).Chance {
		if p != (Point{}) {
			t.Errorf("nothing to treat takes away %v", p)
		}
	}
}

// The mean of the draws is the mean over all orders, each with the probability of its draws:
// enumerated here, with their scatter. Some stands reach others, and two reach each other and are
// done together.
func TestChanceIsTheMeanOfEveryOrder(t *testing.T) {
	jobs := []Job{
		{Reaches: []int32{2}, Exposure: 1, Acres: 1}, {Exposure: 9, Acres: 2}, {Reaches: []int32{4}, Exposure: 2, Acres: 0.5},
		{Reaches: []int32{5}, Exposure: 6, Acres: 0.75}, {Exposure: 8, Acres: 1.5}, {Reaches: []int32{3}, Exposure: 3, Acres: 1.25},
	}
	groups, needs := [][]int{{0}, {1}, {2}, {3, 5}, {4}}, map[int][]int{2: {0}, 4: {2}}
	var mean, square [51]float64
	orders := 0
	var turn func(done []int, likely float64)
	turn = func(done []int, likely float64) {
		var free []int
		for g := range groups {
			if !slices.Contains(done, g) && !slices.ContainsFunc(needs[g], func(n int) bool { return !slices.Contains(done, n) }) {
				free = append(free, g)
			}
		}
		for _, g := range free {
			turn(append(slices.Clone(done), g), likely/float64(len(free)))
		}
		if len(free) > 0 {
			return
		}
		orders++
		for k := range mean {
			value, left := 0.0, 7*float64(k)/50
			for _, g := range done {
				for _, i := range groups[g] {
					value += float64(jobs[i].Exposure) * min(1, max(0, left/float64(jobs[i].Acres)))
					left -= float64(jobs[i].Acres)
				}
			}
			mean[k] += likely * value
			square[k] += likely * value * value
		}
	}
	turn(nil, 1)
	if orders != 20 { // 5! over the 3! orders of the three in a row
		t.Fatalf("%d orders", orders)
	}
	got := Against(jobs)
	for k, p := range got.Chance {
		scatter := math.Sqrt(max(0, square[k]-mean[k]*mean[k]) / float64(got.Draws))
		if math.Abs(float64(p.Exposure)-mean[k]) > 4*scatter+1e-9 {
			t.Errorf("%v acres take %v on the mean of %d draws, of every order %v, give or take %v", p.Acres, p.Exposure, got.Draws, mean[k], scatter)
		}
	}
}

// By hand: three stands of an acre each, with exposures 0.5, 0.25 and 0: the frontier rises by each
// in turn, and continues flat to all three acres, so that it ends where the order does.
func TestFrontierOfLittle(t *testing.T) {
	got := Against([]Job{{Exposure: 0.25, Acres: 1}, {Acres: 1}, {Exposure: 0.5, Acres: 1}})
	for acres, want := range map[geo.Acres]float64{0: 0, 0.5: 0.25, 1: 0.5, 1.5: 0.625, 2: 0.75, 2.5: 0.75, 3: 0.75} {
		if at := At(got.Frontier, acres); math.Abs(float64(at)-want) > 1e-12 {
			t.Errorf("%v at %v acres, want %v", at, float64(acres), want)
		}
	}
	if last := got.Frontier[len(got.Frontier)-1]; last != (Point{3, 0.75}) {
		t.Errorf("the frontier ends at %v, all are 3 acres", last)
	}
	if last := got.Chance[len(got.Chance)-1]; math.Abs(float64(last.Acres)-3) > 1e-12 || math.Abs(float64(last.Exposure-0.75)) > 1e-9 {
		t.Errorf("chance ends at %v", last)
	}
	if got.Draws != 100 {
		t.Errorf("%d draws of a small set, at most a hundred are stated", got.Draws)
	}
}

// The number of orders drawn depends on the number of stands: 300,000 stands in all, at most a
// hundred orders and at least three. By hand.
func TestDrawsOfMany(t *testing.T) {
	for stands, want := range map[int]int{0: 100, 1: 100, 3000: 100, 3001: 99, 30_000: 10, 120_000: 3} {
		if got := Against(make([]Job, stands)).Draws; got != want {
			t.Errorf("%d draws of %d stands, want %d", got, stands, want)
		}
	}
}
