package drift

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"driftreach/geo"
)

// TestUnitsByHand: a day has 24 hours; a quarter of 8 is 2; 3 afloat over 2 km are 6, and 6 on 4 km are
// 1.5 on the mean; with a half-distance of 500 m a half is left after 500 m and a quarter after a
// kilometre, and 8 come down to 1 within three half-distances.
func TestUnitsByHand(t *testing.T) {
	if h := Days(1.5).Hours(); h != 36 {
		t.Errorf("a day and a half has %v hours", h)
	}
	if a := Amount(8).part(0.25); a != 2 {
		t.Errorf("a quarter of 8 is %v", a)
	}
	if e := Amount(3).Over(2); e != 6 {
		t.Errorf("3 over 2 km are %v", e)
	}
	if a := AmountKm(6).Per(4); a != 1.5 {
		t.Errorf("6 on 4 km are %v on the mean", a)
	}
	half := PerMeter(math.Ln2 / 500)
	for way, want := range map[geo.Meters]geo.Share{0: 1, 500: 0.5, 1000: 0.25} {
		if left := half.left(way); math.Abs(float64(left-want)) > 1e-15 {
			t.Errorf("%v is left after %v m, want %v", left, way, want)
		}
	}
	if way := half.settlesIn(8, 1); math.Abs(float64(way)-1500) > 1e-9 {
		t.Errorf("8 come down to 1 in %v m", way)
	}
}

// TestTolls: tolls add up as shares multiply, and lead back to their shares; all that is left has a toll
// of 0, and nothing left a toll without end.
func TestTolls(t *testing.T) {
	if all, none := tollOf(1), tollOf(0); all != 0 || math.Signbit(float64(all)) || none != never || never.share() != 0 {
		t.Errorf("%v for all, %v for nothing, %v is left", all, none, never.share())
	}
	rapid.Check(t, func(t *rapid.T) {
		near := func(what string, got, want float64) {
			t.Helper()
			if math.Abs(got-want) > 1e-12*max(1, math.Abs(want)) {
				t.Errorf("%s: %v, want %v", what, got, want)
			}
		}
		share := rapid.Float64Range(1e-6, 1)
		a, b := geo.Share(share.Draw(t, "a")), geo.Share(share.Draw(t, "b"))
		near("the share again", float64(tollOf(a).share()), float64(a))
		near("of both", float64((tollOf(a) + tollOf(b)).share()), float64(a*b))
		loss, way := PerMeter(rapid.Float64Range(0, 0.01).Draw(t, "loss")), geo.Meters(rapid.Float64Range(0, 5000).Draw(t, "way"))
		near("of a way", float64(loss.toll(way).share()), float64(loss.left(way)))
		near("half of it twice", float64(loss.left(way/2)*loss.left(way/2)), float64(loss.left(way)))
		amount, km := Amount(rapid.Float64Range(0, 1e6).Draw(t, "amount")), geo.Kilometers(rapid.Float64Range(0.01, 100).Draw(t, "km"))
		near("there and back", float64(amount.Over(km).Per(km)), float64(amount))
		if loss > 1e-6 {
			from, to := amount+2, (amount+2)*Amount(b)
			near("what is left where it settles", float64(from.part(loss.left(loss.settlesIn(from, to)))), float64(to))
		}
	})
}
