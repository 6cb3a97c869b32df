package earth

import (
	"math"
	"math/big"
	"testing"

	"driftreach/geo"

	"pgregory.net/rapid"
)

func metersOf(m float64) geo.Meters { return geo.Meters(m) }

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		name      string
		lon, want float64
	}{
		{"inside", 12.5, 12.5},
		{"west end belongs", -180, -180},
		{"east end becomes west end", 180, -180},
		{"past the antimeridian", 181.25, -178.75},
		{"before the antimeridian", -180.5, 179.5},
		{"one turn and a half", 540, -180},
		{"two turns", 725, 5},
		{"minus two turns", -725, -5},
		{"a hair below the west end", math.Nextafter(-180, -200), math.Nextafter(180, 0)},
	} {
		got := Wrap(c.lon)
		if got < -180 || got >= 180 || math.Abs(got-c.want) > 1e-13 {
			t.Errorf("%s: Wrap(%v) = %v, want %v", c.name, c.lon, got, c.want)
		}
	}
	if !math.IsNaN(Wrap(math.NaN())) || !math.IsNaN(Wrap(math.Inf(1))) {
		t.Error("Wrap hides a position that is not a number")
	}
}

func TestWrapIsIdempotentAndWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lon := rapid.Float64Range(-2000, 2000).Draw(t, "lon")
		w := Wrap(lon)
		if w < -180 || w >= 180 || Wrap(w) != w {
			t.Fatalf("Wrap(%v) = %v", lon, w)
		}
		turns := (lon - w) / 360
		near(t, "turns", turns, math.Round(turns), 1e-12)
	})
}

// Reference: the standard library's Sincos, and exact values at multiples of 90.
func TestSincosDegrees(t *testing.T) {
	for x := -450.0; x <= 450; x += 0.37 {
		s, c := sincosDegrees(x)
		ws, wc := math.Sincos(math.Remainder(x, 360) * math.Pi / 180)
		near(t, "sine", s, ws, 1e-15)
		near(t, "cosine", c, wc, 1e-15)
	}
	for x := -45.0; x <= 45; x += 0.0037 {
		s, c := sincosEighth(x * radiansPerDegree)
		ws, wc := math.Sincos(x * radiansPerDegree)
		near(t, "sine over true", s/ws, 1, 3e-16)
		near(t, "cosine over true", c/wc, 1, 3e-16)
	}
	for quarter, want := range [][2]float64{{0, 1}, {1, 0}, {0, -1}, {-1, 0}, {0, 1}} {
		if s, c := sincosDegrees(float64(90 * quarter)); s != want[0] || c != want[1] {
			t.Errorf("sincosDegrees(%d) = %v, %v, want %v", 90*quarter, s, c, want)
		}
	}
}

// Reference: the same difference in 200-bit arithmetic.
func TestExactDifferenceLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(-180, 180).Draw(t, "from")
		to := rapid.Float64Range(-180, 180).Draw(t, "to")
		d, lost := exactDifference(from, to)
		if d < -180 || d > 180 {
			t.Fatalf("difference %v", d)
		}
		big200 := func(x float64) *big.Float { return new(big.Float).SetPrec(200).SetFloat64(x) }
		got := new(big.Float).SetPrec(200).Add(big200(d), big200(lost))
		want := new(big.Float).SetPrec(200).Sub(big200(to), big200(from))
		off, _ := new(big.Float).Sub(want, got).Float64()
		if off != 0 && math.Abs(off) != 360 {
			t.Fatalf("%v to %v: off by %v", from, to, off)
		}
	})
}

func TestAtan2Degrees(t *testing.T) {
	for _, want := range []float64{0, 45, 90, 135, 180, -45, -90, -135} {
		s, c := sincosDegrees(want)
		if want == 135 || want == -135 || want == 45 || want == -45 {
			s, c = math.Copysign(1, s), math.Copysign(1, c)
		}
		// +0 makes the sine of 180 a positive zero
		if got := atan2Degrees(s+0, c); got != want {
			t.Errorf("atan2Degrees(%v, %v) = %v, want %v", s, c, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-179.9, 179.9).Draw(t, "angle")
		s, c := sincosDegrees(a)
		near(t, "angle", atan2Degrees(s, c), a, 1e-13)
	})
}

// Reference: the standard library.
func TestAngleOf(t *testing.T) {
	for a := -3.2; a < 3.2; a += 0.0017 {
		y, x := math.Sincos(a)
		near(t, "angle", angleOf(3*y, 3*x), math.Atan2(y, x), 2e-16*(1+math.Abs(a)))
	}
	for _, c := range [][2]float64{{0, 1}, {0, -1}, {1, 0}, {-1, 0}, {0, 0}} {
		if got := angleOf(c[0], c[1]); got != math.Atan2(c[0], c[1]) {
			t.Errorf("angleOf%v = %v", c, got)
		}
	}
}

func BenchmarkSincosDegrees(b *testing.B) {
	sum, x := 0.0, 0.0
	for b.Loop() {
		x += 0.001
		s, c := sincosDegrees(x)
		sum += s + c
	}
	_ = sum
}

// An angle near 0 keeps its digits, on either side of it. Reference: the standard library's Atan2.
func TestSmallAnglesInDegrees(t *testing.T) {
	for y := 1.0; y > 1e-300; y /= 7 {
		for _, signed := range []float64{y, -y} {
			want := math.Atan2(signed, 1) * 180 / math.Pi
			if got := atan2Degrees(signed, 1); math.Abs(got-want) > 4e-16*math.Abs(want) {
				t.Errorf("the angle of (1, %g) is %g, want %g", signed, got, want)
			}
		}
	}
}
