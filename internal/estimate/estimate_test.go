package estimate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// By hand: 1 look that finds 3 of 4 leaves a probability of 1 in 5 where it was 1 in 2.
func TestAbsentByHand(t *testing.T) {
	near(t, "absent after one look", Absent(0.5, 0.75, 1), 0.8, 1e-12)
	near(t, "after none", Absent(0.5, 0.75, 0), 0.5, 1e-12)
	near(t, "after two", Absent(0.5, 0.75, 2), 16.0/17, 1e-12)
	if n, ok := ClearLooks(0.5, 0.75, 0.94); n != 2 || !ok {
		t.Errorf("%d looks, want 2", n)
	}
	if _, ok := ClearLooks(0.5, 0, 0.9); ok {
		t.Error("looks that find nothing make no certainty")
	}
}

// A share over clusters with identical members is as uncertain as one over the clusters alone; with
// unrelated members it is about as uncertain as one over the members.
func TestShareOfClusters(t *testing.T) {
	var alike, apart []Part
	r := rand.New(rand.NewPCG(1, 1))
	for c := range 20 {
		for range 10 {
			v := 0.0
			if c%4 == 0 {
				v = 1
			}
			alike = append(alike, Part{string(rune('a' + c)), v, 1})
			v = 0
			if r.Float64() < 0.25 {
				v = 1
			}
			apart = append(apart, Part{string(rune('a' + c)), v, 1})
		}
	}
	width := func(i Interval) float64 { return i.High - i.Low }
	five := width(Wilson(5, 20))
	if w := width(Share(alike)); math.Abs(w-five) > 0.15*five {
		t.Errorf("width %g, that of 5 of 20 is %g", w, five)
	}
	fifty := width(Wilson(50, 200))
	if w := width(Share(apart)); math.Abs(w-fifty) > 0.5*fifty {
		t.Errorf("width %g, that of 50 of 200 is %g", w, fifty)
	}
	if all := Share([]Part{{"a", 1, 1}, {"b", 1, 1}, {"c", 1, 1}}); all.High != 1 || all.Low < 0.3 || all.Low > 0.6 {
		t.Errorf("all of three: %v", all)
	}
}

// line is a stream as a line: sources on it, and the expected intensity in each of its rows.
func line(r *rand.Rand, truth float64, events int, law func(down, up []float64) []float64) Spreading {
	const rows = 400
	s := Spreading{Counts: make([]float64, rows), Ground: make([]float64, rows), Scales: []float64{0.25, 0.5, 1, 2, 4}, Draws: 199, Seed: 1}
	var at []float64
	for range 8 {
		at = append(at, 20*r.Float64())
	}
	fill := func(h float64) (down, up []float64) {
		down, up = make([]float64, rows), make([]float64, rows)
		for i := range rows {
			x := (float64(i) + 0.5) * 20 / rows
			for _, source := range at {
				if x > source {
					down[i] += math.Exp2(-(x - source) / h)
				} else {
					up[i] += math.Exp2(-(source - x) / h)
				}
			}
		}
		return down, up
	}
	for i := range s.Ground {
		s.Ground[i] = 1
	}
	for _, h := range s.Scales {
		down, up := fill(h)
		s.Down, s.Up = append(s.Down, down), append(s.Up, up)
	}
	weights := law(fill(truth))
	total := 0.0
	for _, w := range weights {
		total += w
	}
	for range events {
		u, k := total*r.Float64(), 0
		for ; k < rows-1 && u > weights[k]; k++ {
			u -= weights[k]
		}
		s.Counts[k]++
	}
	return s
}

// A sample of what scripts/learned runs two hundred times: spread in one direction is detected,
// spread in both directions is not.
func TestDirectionOfWhatSpread(t *testing.T) {
	told, wrong, within := 0, 0, 0
	for run := range uint64(10) {
		r := rand.New(rand.NewPCG(run, 7))
		s := line(r, 1, 60, func(down, _ []float64) []float64 { return down })
		got := s.Estimate()
		if got.P <= 0.01 {
			told++
		}
		if got.Scale.Low <= 1 && 1 <= got.Scale.High {
			within++
		}
		s = line(r, 1, 60, func(down, up []float64) []float64 {
			for i := range down {
				down[i] += up[i]
			}
			return down
		})
		if s.Estimate().P <= 0.01 {
			wrong++
		}
	}
	if told < 9 || within < 8 || wrong > 1 {
		t.Errorf("of 10: %d told, %d within, %d told wrongly", told, within, wrong)
	}
}

// With as many events as needed the direction is detected 8 times in 10; with a fifth of them it is
// not.
func TestNeeded(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	s := line(r, 1, 0, func(down, _ []float64) []float64 { return down })
	n := s.Needed(2)
	if n < 5 || n > 60 {
		t.Fatalf("%g events are needed", n)
	}
	for i := range s.Ground {
		s.Down[2][i], s.Up[2][i] = 1, 1
	}
	s.Down, s.Up, s.Scales = s.Down[2:3], s.Up[2:3], s.Scales[2:3]
	if !math.IsInf(s.Needed(0), 1) {
		t.Error("two laws that are one can be told apart")
	}
}

// TestShareOfClustersAllAlike: where each of three sites has the same two times, one come and one not, no
// draw of sites differs from another, and the interval is that of three independent times: by hand,
// Wilson's at a half of three (Wilson, J. Amer. Statist. Assoc. 22, 1927): 0.5 less and more 0.374668.
func TestShareOfClustersAllAlike(t *testing.T) {
	var times []Between
	var clusters []string
	for _, site := range []string{"a", "b", "c"} {
		times = append(times, Between{0, 1, 1}, Between{5, 6, 1})
		clusters = append(clusters, site, site)
	}
	got := ShareCome(times, clusters, 2, 50, 1)
	if math.Abs(got.Value-0.5) > 1e-9 || math.Abs(got.Low-0.125332) > 1e-5 || math.Abs(got.High-0.874668) > 1e-5 {
		t.Errorf("%+v", got)
	}
}
