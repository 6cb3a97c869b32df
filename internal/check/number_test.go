package check

import (
	"math"
	"testing"
)

// TestNumber: a northing is written with all its digits; only very large and very small numbers have
// an exponent.
func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{
		3973745: "3973745", 687462.1: "687462.1", 250016391: "250016391", -117.20001: "-117.20001", 0: "0", 1e6: "1000000",
		0.0001: "0.0001", 0.000002: "0.000002", 1e-9: "1e-09", 1e15: "1e+15", -2.5e20: "-2.5e+20", math.Inf(1): "+Inf",
	} {
		if got := Number(v); got != want {
			t.Errorf("Number(%v) = %q, want %q", v, got, want)
		}
	}
	if got := Number(math.NaN()); got != "NaN" {
		t.Errorf("Number(NaN) = %q", got)
	}
}

// TestDigits: the tail of a conversion goes, and a whole number keeps every digit.
func TestDigits(t *testing.T) {
	for _, c := range []struct {
		v      float64
		digits int
		want   string
	}{
		{0.1 + 0.2, 10, "0.3"}, {12.34567891, 6, "12.3457"}, {250016391, 6, "250016391"}, {250016391.7, 6, "250016392"}, {999999.5, 6, "1000000"},
		{123456.4, 6, "123456"}, {-250016391, 6, "-250016391"}, {0.00012345678, 6, "0.000123457"}, {0, 6, "0"}, {1e20, 6, "1e+20"},
		{math.Inf(-1), 6, "-Inf"},
	} {
		if got := Digits(c.v, c.digits); got != c.want {
			t.Errorf("Digits(%v, %d) = %q, want %q", c.v, c.digits, got, c.want)
		}
	}
}

// TestShort: to the hundredth from a tenth on, and with two digits below it; by hand.
func TestShort(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 12.345: "12.35", 1234.5: "1234.5", 0.1: "0.1", 0.105: "0.11", 0.0999: "0.1", 0.0994: "0.099", 0.05: "0.05", 0.0123: "0.012", 1e-9: "1e-09", -0.056: "-0.06", -3.14159: "-3.14", 7: "7",
	} {
		if got := Short(v); got != want {
			t.Errorf("Short(%v) = %q, want %q", v, got, want)
		}
	}
}
