package learn

import (
	"math"
	"testing"

	"driftreach/geo"
	"driftreach/internal/estimate"
)

// TestIntervalsInWords: a yearly factor as an increase, and intervals with and without an end; by
// hand.
func TestIntervalsInWords(t *testing.T) {
	for i, want := range map[estimate.Interval]string{
		{Value: 1.25, Low: 1.1, High: 1.4}:         "25 % (10 % to 40 %)",
		{Value: 0.8, Low: 0.5, High: 1.2}:          "-20 % (-50 % to 20 %)",
		{Value: 1.25, Low: 1.1, High: math.Inf(1)}: "25 % (10 % or more)",
	} {
		if got := more(i); got != want {
			t.Errorf("%v: %q, want %q", i, got, want)
		}
	}
	for i, want := range map[estimate.Interval]string{
		{Value: 0.5, Low: math.Inf(-1), High: 0.6}:        "50 % (60 % or less)",
		{Value: 0.5, Low: 0, High: math.Inf(1)}:           "50 % (too few to bound)",
		{Value: 0.997, Low: 0.5, High: 1}:                 "over 99 % (50 % to 100 %)",
		{Value: math.NaN(), Low: math.NaN(), High: 0.123}: "unknown",
	} {
		if got := percents(i); got != want {
			t.Errorf("%v: %q, want %q", i, got, want)
		}
	}
}

// TestAcresInWords: acres are rounded as on every page: to the hundredth, below a tenth of an acre to
// the ten-thousandth.
func TestAcresInWords(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 0.03581: "0.0358", 0.5: "0.50", 11.249: "11.25", 1234.5: "1234.50", math.Inf(1): "unknown"} {
		if got := acres(geo.Acres(x)); got != want {
			t.Errorf("%v acres: %q, want %q", x, got, want)
		}
	}
}
