package estimate

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// The ratings 1 to 5 of 58 normal and 51 abnormal images of J. A. Hanley and B. J. McNeil, Radiology
// 143 (1982), 29-36, table I: an area of 0.893, and the points of the curve by adding up the table.
func TestCurveAgainstPrint(t *testing.T) {
	rated := func(table ...int) (out []float64) {
		for rating, n := range table {
			for range n {
				out = append(out, float64(rating+1))
			}
		}
		return out
	}
	got := Curve(rated(3, 2, 2, 11, 33), rated(33, 6, 6, 11, 2))
	near(t, "area", got.Area.Value, 0.893, 5e-4)
	// by hand: 33 x 56 + 11 x 45 + 2 x 39 + 2 x 33 above, and half of 66 + 121 + 12 + 12 + 99
	near(t, "area by hand", got.Area.Value, (33*56+11*45+2*39+2*33+0.5*(66+121+12+12+99))/(51*58), 1e-12)
	want := []ROCStep{{0, 0}, {2.0 / 58, 33.0 / 51}, {13.0 / 58, 44.0 / 51}, {19.0 / 58, 46.0 / 51}, {25.0 / 58, 48.0 / 51}, {1, 1}}
	if diff := cmp.Diff(want, got.Points, cmpopts.EquateApprox(0, 1e-12)); diff != "" {
		t.Errorf("points (-want +got):\n%s", diff)
	}
}

// By hand, on a flat part only its two ends are points: scores 9 and 1 of cases among 7, 5 and 3 of
// controls.
func TestCurveByHand(t *testing.T) {
	want := []ROCStep{{0, 0}, {0, 0.5}, {1, 0.5}, {1, 1}}
	got := Curve([]float64{1, 9}, []float64{5, 7, 3})
	if diff := cmp.Diff(want, got.Points, cmpopts.EquateApprox(0, 1e-12)); diff != "" {
		t.Errorf("points (-want +got):\n%s", diff)
	}
	near(t, "area", got.Area.Value, 0.5, 1e-12)
	for _, none := range [][2][]float64{{nil, {1}}, {{1}, nil}, {nil, nil}} {
		if got := Curve(none[0], none[1]); got.Area.Known() || got.Points != nil {
			t.Errorf("%v: %+v", none, got)
		}
	}
	for _, few := range [][2][]float64{{{2}, {1, 1}}, {{2, 2}, {1}}} { // all is known of the area but for its bounds
		if got := Curve(few[0], few[1]).Area; got != (Interval{1, 0, 1}) {
			t.Errorf("%v: %+v", few, got)
		}
	}
	if got := Curve([]float64{2, 2}, []float64{1, 1}).Area; got != (Interval{1, 1, 1}) {
		t.Errorf("all above all: %+v", got)
	}
	if got := Curve([]float64{1, 1}, []float64{2, 2}).Area; got != (Interval{0, 0, 0}) {
		t.Errorf("all below all: %+v", got)
	}
}

// The area counts pairs, and its variance is that of the shares of pairs of each case and of each
// control, over their numbers: as E. R. DeLong and others define it, pair by pair.
func TestCurveCountsPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		score := rapid.Map(rapid.IntRange(0, 6), func(i int) float64 { return float64(i) })
		cases, controls := rapid.SliceOfN(score, 2, 12).Draw(t, "cases"), rapid.SliceOfN(score, 2, 12).Draw(t, "controls")
		m, n := float64(len(cases)), float64(len(controls))
		above, over, area := make([]float64, len(cases)), make([]float64, len(controls)), 0.0
		for i, a := range cases {
			for k, o := range controls {
				win := 0.0
				switch {
				case a > o:
					win = 1
				case a == o:
					win = 0.5
				}
				above[i], over[k], area = above[i]+win/n, over[k]+win/m, area+win/(m*n)
			}
		}
		spread := func(of []float64) (sum float64) {
			for _, v := range of {
				sum += (v - area) * (v - area) / float64(len(of)-1) / float64(len(of))
			}
			return sum
		}
		half := Normal * math.Sqrt(spread(above)+spread(over))
		got := Curve(cases, controls)
		want := Interval{area, max(0, area-half), min(1, area+half)}
		if diff := cmp.Diff(want, got.Area, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
			t.Errorf("area (-want +got):\n%s", diff)
		}
		first, last := got.Points[0], got.Points[len(got.Points)-1]
		under := 0.0
		for i := 1; i < len(got.Points); i++ {
			a, b := got.Points[i-1], got.Points[i]
			if b.Cases < a.Cases || b.Controls < a.Controls {
				t.Errorf("the curve falls: %v", got.Points)
			}
			under += (b.Controls - a.Controls) * (a.Cases + b.Cases) / 2
		}
		if first != (ROCStep{}) || last != (ROCStep{1, 1}) || math.Abs(under-area) > 1e-9 {
			t.Errorf("%v from %v to %v with %g below, want %g", got.Points, first, last, under, area)
		}
	})
}
