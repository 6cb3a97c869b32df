package estimate

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// The number of looks has a closed form: prior odds of presence times (1-find)^n are at most the
// odds that are left (B. A. Wintle and others, Diversity and Distributions 18 (2012), 417-424,
// equation 4). One look fewer is not enough.
func TestClearLooksAreThoseOfTheClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before := rapid.Float64Range(0.05, 0.95).Draw(t, "before")
		find := rapid.Float64Range(0.05, 0.95).Draw(t, "find")
		certainty := rapid.Float64Range(0.5, 0.999).Draw(t, "certainty")
		exact := math.Log((1-certainty)/certainty/(before/(1-before))) / math.Log(1-find)
		want := max(0, int(math.Ceil(exact)))
		if math.Abs(exact-math.Round(exact)) < 1e-9 {
			t.Skip("a tie to the last bit")
		}
		if n, ok := ClearLooks(before, find, certainty); n != want || !ok {
			t.Errorf("%d looks, %v, want %d", n, ok, want)
		}
	})
}

// With a prior of a half, three of four looks finding, and 0.8, 16/17 and 64/65 certain after one,
// two and three looks, the same certainties need just so many. No look is needed for what is certain
// already, and no number of looks that find one in a million is enough.
func TestClearLooksByHand(t *testing.T) {
	for _, tt := range []struct {
		before, find, certainty float64
		looks                   int
		ok                      bool
	}{
		{0.5, 0.75, 0.5, 0, true}, {0.5, 0.75, 0.8 - 1e-12, 1, true}, {0.5, 0.75, 0.81, 2, true}, {0.5, 0.75, 64.0/65 - 1e-12, 3, true},
		{0.1, 0.75, 0.9, 0, true}, {0.5, 1, 1, 1, true}, {0.5, 1e-6, 0.95, 0, false},
		// 0.99^300 is 0.049, 0.99^292 0.053 and 0.99^293 0.05261, which leaves 0.95002
		{0.5, 0.01, 0.95, 293, true},
	} {
		if n, ok := ClearLooks(tt.before, tt.find, tt.certainty); n != tt.looks || ok != tt.ok {
			t.Errorf("%+v: %d looks, %v", tt, n, ok)
		}
	}
}

// The estimate is that of Lincoln and Petersen turned round: of the things found, two looks find
// 2 x both + one of them only, so that the probability is 2 x both / (2 x both + ones). By hand for
// 8, 3 and 1: 16 of 20.
func TestFindByHand(t *testing.T) {
	near(t, "8, 3 and 1", Second{8, 3, 1}.Find().Value, 0.8, 1e-12)
	near(t, "all by both", Second{5, 0, 0}.Find().Value, 1, 1e-12)
	near(t, "all by both, at most", Second{5, 0, 0}.Find().High, 1, 1e-12)
	near(t, "none by both", Second{0, 4, 2}.Find().Value, 0, 1e-12)
	near(t, "none by both, at least", Second{0, 4, 2}.Find().Low, 0, 1e-12)
	if (Second{}).Find().Known() {
		t.Error("nothing found tells of no probability")
	}
	rapid.Check(t, func(t *rapid.T) {
		s := Second{rapid.IntRange(0, 50).Draw(t, "both"), rapid.IntRange(0, 50).Draw(t, "first"), rapid.IntRange(1, 50).Draw(t, "other")}
		got, ones := s.Find(), s.First+s.Other
		if want := float64(2*s.Both) / float64(2*s.Both+ones); math.Abs(got.Value-want) > 1e-12 {
			t.Errorf("%g, want %g", got.Value, want)
		}
		q := Wilson(s.Both, s.Both+ones) // p/(2-p) of the bounds are those of the share
		if math.Abs(got.Low/(2-got.Low)-q.Low) > 1e-12 || math.Abs(got.High/(2-got.High)-q.High) > 1e-12 {
			t.Errorf("%+v, the share's %+v", got, q)
		}
	})
}

// Of 400 simulated pairs of looks at 60 things with a true probability of 0.7, the interval holds it
// in 95 %, within four standard deviations of such a count (4.4 each).
func TestFindHoldsTheTruth(t *testing.T) {
	r, holds := rand.New(rand.NewPCG(5, 5)), 0
	for range 400 {
		var s Second
		for range 60 {
			switch a, b := r.Float64() < 0.7, r.Float64() < 0.7; {
			case a && b:
				s.Both++
			case a:
				s.First++
			case b:
				s.Other++
			}
		}
		if got := s.Find(); got.Low <= 0.7 && 0.7 <= got.High {
			holds++
		}
	}
	if holds < 380-18 || holds > 380+18 {
		t.Errorf("%d of 400 hold the truth, expected 380", holds)
	}
}
