package cell

import (
	"math"
	"slices"
	"testing"
)

// TestFindUnit: exact sizes by hand from NIST Special Publication 811, appendix B; a
// word is of one dimension alone.
func TestFindUnit(t *testing.T) {
	for word, want := range map[string]struct {
		like Unit // of the same dimension
		size float64
	}{
		"ft": {Metre, 0.3048}, "ft_us": {Metre, 0.30480060960121924}, "mi": {Kilometre, 1609.344}, "ac": {SquareMetre, 4046.8564224}, "ha": {Acres, 10_000},
		"pct": {Share, 0.01}, "kn": {MetrePerSecond, 0.5144444444444445}, "cfs": {CubicMetrePerSecond, 0.028316846592}, "min": {Hour, 1.0 / 60}, "degf": {Celsius, 5.0 / 9},
	} {
		unit, known := FindUnit(word)
		if !known || unit.Of != want.like.Of || math.Abs(unit.Size-want.size) > 1e-15*want.size {
			t.Errorf("%s is %+v, %v, want the size %v", word, unit, known, want.size)
		}
		if !slices.Contains(UnitsOf(unit.Of), word) {
			t.Errorf("%s is not among the units of its dimension", word)
		}
	}
	for _, word := range []string{"", "furlongs", "FT"} {
		if unit, known := FindUnit(word); known {
			t.Errorf("%q is %+v", word, unit)
		}
	}
	if words := UnitsOf(Day.Of); len(words) != 0 {
		t.Errorf("dates have the units %v", words)
	}
}
