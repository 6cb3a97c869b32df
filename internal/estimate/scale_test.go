package estimate

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// By hand: three rows, of which spread down reaches the first alone, spread up the second alone, and
// the ground is the third. Of 7, 2 and 5 the ground has 5, both sides have the 4 that stand the second
// row beside as many in the first, and 5 more went down. Without a direction the first two are 4.5
// each: twice 7 log(7/4.5) + 2 log(2/4.5) is gained.
func TestScaleByHand(t *testing.T) {
	s := Spreading{
		Counts: []float64{7, 2, 5}, Ground: []float64{0, 0, 2}, Scales: []float64{3},
		Down: [][]float64{{4, 0, 0}}, Up: [][]float64{{0, 4, 0}},
	}
	got := s.Estimate()
	near(t, "ground", got.Ground, 5, 1e-6)
	near(t, "to both sides", got.Either, 4, 1e-6)
	near(t, "down", got.Directed, 5, 1e-6)
	near(t, "gain", got.Gain, 2*(7*math.Log(7/4.5)+2*math.Log(2/4.5)), 1e-8)
	if got.Scale != (Interval{3, 0, math.Inf(1)}) || len(got.Profile) != 1 || got.Profile[0] != 0 || !math.IsNaN(got.P) {
		t.Errorf("the only scale: %+v", got)
	}
	s.Counts = []float64{2, 7, 5} // more went up, and that is no direction of spread
	got = s.Estimate()
	near(t, "down where more went up", got.Directed, 0, 1e-6)
	near(t, "gain where more went up", got.Gain, 0, 1e-8)
	near(t, "to both sides where more went up", got.Either, 9, 1e-6)
}

// With a direction that no draw without one can match, p is one of one more than the draws. Without
// any gain every draw is as good: ten draws are enough to say 1, and fewer say it too.
func TestChanceByHand(t *testing.T) {
	s := Spreading{Counts: []float64{40, 0}, Ground: []float64{1, 1}, Scales: []float64{1}, Down: [][]float64{{1, 0}}, Up: [][]float64{{0, 1}}, Seed: 1}
	for draws, want := range map[int]float64{1: 1.0 / 2, 19: 1.0 / 20, 99: 1.0 / 100} {
		s.Draws = draws
		near(t, "p of 40 and none", s.Estimate().P, want, 1e-15)
	}
	s.Counts = []float64{0, 40}
	for _, draws := range []int{1, 5, 10, 99} {
		s.Draws = draws
		near(t, "p of none and 40", s.Estimate().P, 1, 1e-15)
	}
}

// The p of counts without a direction is at most a fifth in a fifth of the cases (R. A. Fisher): of
// 400 simulated ones 80, within four standard deviations of such a count (8 each); no p is 0. Three of
// the rows have more ground than others, and the draws keep to it.
func TestChanceIsFair(t *testing.T) {
	ground := []float64{1, 4, 1, 4, 1, 4}
	low, r := 0, rand.New(rand.NewPCG(8, 8))
	for seed := range uint64(400) {
		s := Spreading{
			Counts: make([]float64, 6), Ground: ground, Scales: []float64{1, 2}, Draws: 39, Seed: seed,
			Down: [][]float64{{8, 4, 2, 1, 0, 0}, {4, 3, 2, 1, 1, 1}}, Up: [][]float64{{0, 0, 1, 2, 4, 8}, {1, 1, 1, 2, 3, 4}},
		}
		for range 30 {
			u, k := 15*r.Float64(), 0
			for ; u > ground[k]; k++ {
				u -= ground[k]
			}
			s.Counts[k]++
		}
		p := s.Estimate().P
		if p <= 0.2 {
			low++
		}
		if !(p > 0 && p <= 1) {
			t.Fatalf("p of %g", p)
		}
	}
	// a direction that gains nothing has a p of 1, so that fewer than a fifth are low
	if low < 80-32 || low > 80+32 {
		t.Errorf("%d of 400 have a p of a fifth or less, expected 80", low)
	}
}

// By hand, in the logarithm of the scale to base 2: a parabola is met exactly, wherever it is lowest
// and however steep; at the ends of the grid the root goes straight to the next point.
func TestBoundsByHand(t *testing.T) {
	scales := []float64{1, 2, 4, 8, 16, 32}
	inf := math.Inf(1)
	for _, tt := range []struct {
		profile []float64
		want    Interval
	}{
		{[]float64{1, 1, 1, 0, 1, 1}, Interval{8, 0, inf}},
		{[]float64{0, 2 * chi, 9, 9, 9, 9}, Interval{1, 0, math.Exp2(math.Sqrt(0.5))}},
		{[]float64{9, 9, 9, 9, 2 * chi, 0}, Interval{32, math.Exp2(5 - math.Sqrt(0.5)), inf}},
		{[]float64{chi, chi, 0, 0, chi, chi}, Interval{math.Exp2(2.5), math.Exp2(2.5 - math.Sqrt2), math.Exp2(2.5 + math.Sqrt2)}},
		{[]float64{0, 1, 1, 1, 1, 4 * chi}, Interval{1, 0, math.Exp2(4 + (math.Sqrt(chi)-1)/(2*math.Sqrt(chi)-1))}},
	} {
		nearInterval(t, bounds(scales, tt.profile), tt.want, 1e-9)
	}
	for _, c := range []float64{0.8, 4, 60} {
		for _, at := range []float64{2, 2.1, 2.5, 2.8} {
			profile := make([]float64, len(scales))
			for k := range profile {
				profile[k] = c * (float64(k) - at) * (float64(k) - at)
			}
			least := slices.Min(profile)
			for k := range profile {
				profile[k] -= least
			}
			half, want := math.Sqrt(chi/c), Interval{math.Exp2(at), 0, inf}
			if at-half > 0 {
				want.Low = math.Exp2(at - half)
			}
			if at+half < 5 {
				want.High = math.Exp2(at + half)
			}
			nearInterval(t, bounds(scales, profile), want, 1e-9)
		}
	}
	near(t, "chi", chi, 3.841459, 5e-7) // NIST/SEMATECH e-Handbook, 1.3.6.7.4, one degree of freedom
}

// The mean of n exponential distances: the likelihood ratio interval of its factor f solves 2 n (log f +
// 1/f - 1) = chi (S. S. Wilks), here by halving. On the grid of four steps a doubling the bounds lie
// within 0.6 % of it.
func TestBoundsOfExponentialDistances(t *testing.T) {
	var scales []float64
	for k := -12; k <= 12; k++ {
		scales = append(scales, math.Exp2(float64(k)/4))
	}
	for _, n := range []float64{30, 100, 400} {
		for _, mean := range []float64{1, 1.07, 1.5, 2.1} {
			value := func(f float64) float64 { return 2 * n * (math.Log(f/mean) + mean/f - 1) }
			half := func(in, out float64) float64 {
				for range 60 {
					if mid := (in + out) / 2; value(mid) > chi {
						out = mid
					} else {
						in = mid
					}
				}
				return in
			}
			var profile []float64
			for _, f := range scales {
				profile = append(profile, value(f))
			}
			least := slices.Min(profile)
			for k := range profile {
				profile[k] -= least
			}
			nearInterval(t, bounds(scales, profile), Interval{mean, half(mean, mean/8), half(mean, mean*8)}, 0.006*mean)
		}
	}
}

func nearInterval(t *testing.T, got, want Interval, off float64) {
	t.Helper()
	near(t, "scale", got.Value, want.Value, off)
	near(t, "low", got.Low, want.Low, off)
	if got.High != want.High {
		near(t, "high", got.High, want.High, off)
	}
}

// By hand: where spread down is all in one of two rows, each event tells log 2 against halves, and
// 3.168^2 / (2 log 2) = 7.24, so that 8 are needed. Where three of four go there, it is 0.75 log 1.5 +
// 0.25 log 0.5 = 0.130812, and 10.036224 / 0.261624 = 38.36: 39.
func TestNeededByHand(t *testing.T) {
	s := Spreading{Ground: []float64{1, 1}, Scales: []float64{1, 2}, Down: [][]float64{{5, 0}, {3, 1}}, Up: [][]float64{{0, 5}, {1, 3}}}
	for scale, want := range []float64{8, 39} {
		near(t, "needed", s.Needed(scale), want, 0)
	}
	// a scale at which spread to both sides looks the same, where the other's does not
	s.Up[0], s.Down[1], s.Up[1] = []float64{5, 0}, []float64{1, 1}, []float64{1, 1}
	if n := s.Needed(0); !math.IsInf(n, 1) {
		t.Errorf("%g events tell apart what is the same", n)
	}
	s.Down[1] = []float64{0, 0}
	if n := s.Needed(1); !math.IsInf(n, 1) {
		t.Errorf("%g events of none at all", n)
	}
}

// By hand: 1.41 has the ratio 1.41 to 1 and 1.418 to 2; 2.9 is 1.45 times 2, and 4 is 1.38 times it,
// though it lies nearer to 2.
func TestNearest(t *testing.T) {
	s := Spreading{Scales: []float64{1, 2, 4}}
	for value, want := range map[float64]int{0.01: 0, 1: 0, 1.41: 0, 1.42: 1, 2: 1, 2.8: 1, 2.9: 2, 4: 2, 99: 2} {
		if got := s.Nearest(value); got != want {
			t.Errorf("nearest to %g: %d, want %d", value, got, want)
		}
	}
}
