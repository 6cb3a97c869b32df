package geo

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// near fails unless got is within tolerance of want.
func near(t interface{ Fatalf(string, ...any) }, what string, got, want, tolerance float64) {
	if !(math.Abs(got-want) <= tolerance) {
		t.Fatalf("%s = %.12g, want %.12g, allowed %.3g", what, got, want, tolerance)
	}
}

// Published: NIST Special Publication 811, appendix B: 1 acre is 43 560 square
// feet; the international foot is 0.3048 m.
func TestAcre(t *testing.T) {
	if got := Acres(1).SquareMeters(); got != 4046.8564224 {
		t.Errorf("1 acre is %v m2", got)
	}
	near(t, "acre", float64(Acres(1).SquareMeters()), 43560*0.3048*0.3048, 1e-12)
}

// Derived by hand: r = sqrt(404.68564224 m2 / pi).
func TestTenthOfAnAcreAsCircle(t *testing.T) {
	r := math.Sqrt(float64(Acres(0.1).SquareMeters()) / math.Pi)
	near(t, "radius", r, 11.3497, 5e-5)
}

// Derived by hand: an acre-foot on an acre is a foot of water.
func TestAcreFootPerAcre(t *testing.T) {
	volume := float64(Acres(1).SquareMeters()) * 0.3048
	near(t, "depth in mm", volume/float64(Acres(1).SquareMeters())*1000, 304.8, 1e-12)
}

func TestUnitsUndoEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Acres(rapid.Float64Range(0, 1e9).Draw(t, "acres"))
		near(t, "acres", float64(a.SquareMeters().Acres()), float64(a), 4e-16*float64(a))
	})
	if got := Meters(1234.5).Kilometers(); got != 1.2345 {
		t.Errorf("1234.5 m is %v km", got)
	}
}

// An area made from grains gives the same grains again, and grains are within half a grain of the
// area.
func TestGrains(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(0, 1e15).Draw(t, "grains")
		if got := OfGrains(n).Grains(); got != n {
			t.Fatalf("%d came back as %d", n, got)
		}
	})
	// derived by hand: a quarter of a square metre is 0.25 / 4046.8564224 acres
	if got := SquareMeters(0.25).Grains(); got != 617763 {
		t.Errorf("0.25 m2 is %d grains, want 617763", got)
	}
}

// By hand: kilometres and back. An area too large for grains, infinite or not a number has 0
// grains.
func TestKilometersAndWhatIsNoArea(t *testing.T) {
	if got := Kilometers(2.5).Meters(); got != 2500 {
		t.Errorf("2.5 km are %v m", got)
	}
	for _, a := range []SquareMeters{SquareMeters(math.NaN()), SquareMeters(math.Inf(1)), SquareMeters(math.Inf(-1)), Acres(1e9).SquareMeters()} {
		if got := a.Grains(); got != 0 {
			t.Errorf("%v m2 are %d grains", float64(a), got)
		}
	}
	if got := Acres(-2).SquareMeters().Grains(); got != -20_000_000_000 {
		t.Errorf("-2 acres are %d grains", got)
	}
}

// TestSteps: by hand: whole steps, half away from zero; a length above 0 is at least one step.
func TestSteps(t *testing.T) {
	for _, one := range []struct {
		step     Meters
		km, want Kilometers
	}{{1000, 0, 0}, {1000, 0.2, 1}, {1000, 1.4, 1}, {1000, 1.5, 2}, {1000, 2.5, 3}, {250, 0.1, 0.25}, {250, 0.3, 0.25}, {250, 0.375, 0.5}, {5000, 12.4, 10}, {5000, 12.6, 15}} {
		if got := one.step.Steps(one.km); got != one.want {
			t.Errorf("%v km in steps of %v m: %v, want %v", one.km, one.step, got, one.want)
		}
	}
}
