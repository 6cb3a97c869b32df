package cell

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// unitsInPrint are the words for units by their size as printed in NIST Special Publication 811
// (2008), appendix B.8, in the unit named first. Exact factors have all their digits. The acre is that
// of 43 560 international square feet.
var unitsInPrint = []struct {
	ours  Unit
	size  float64
	words string // separated by commas
}{
	{Metre, 1, "m, meter, meters, metre, metres"},
	{Metre, 1e-3, "mm"}, {Metre, 1e-2, "cm"}, {Metre, 1e-1, "dm"}, {Metre, 1e3, "km"},
	{Metre, 3.048e-1, "ft, foot, feet, '"}, {Metre, 3.048006096012192e-1, "ft_us"}, {Metre, 2.54e-2, `in, inch, inches, "`},
	{Metre, 9.144e-1, "yd, yard, yards"}, {Metre, 1.609344e3, "mi, mile, miles"},

	{SquareMetre, 1, "m2, m², sqm, sq m, square meters, square metres"}, {SquareMetre, 1e-4, "cm2"}, {SquareMetre, 1e4, "ha, hectare, hectares"},
	{SquareMetre, 1e6, "km2, km², sqkm, sq km"}, {SquareMetre, 9.290304e-2, "ft2, ft², sqft, sq ft, sf, square feet"}, {SquareMetre, 6.4516e-4, "in2"},
	{SquareMetre, 8.3612736e-1, "yd2, sqyd, square yards"}, {SquareMetre, 4.0468564224e3, "ac, acre, acres"},
	{SquareMetre, 2.589988110336e6, "mi2, sqmi, sq mi, square miles"},

	{Share, 1e-2, "%, percent, pct"}, {Share, 1, "share, fraction, m/m, ft/ft"}, {Share, 1e-3, "permille, m/km"},

	{MetrePerSecond, 1, "m/s, mps"}, {MetrePerSecond, 1e-2, "cm/s"}, {MetrePerSecond, 0.27777777777777778, "km/h, kmh, kph"},
	{MetrePerSecond, 3.048e-1, "ft/s, fps"}, {MetrePerSecond, 4.4704e-1, "mph, mi/h"}, {MetrePerSecond, 0.51444444444444444, "kn, kt, kts, knots"},

	{CubicMetrePerSecond, 1, "m3/s, m³/s, cms"}, {CubicMetrePerSecond, 1e-3, "l/s"}, {CubicMetrePerSecond, 2.8316846592e-2, "ft3/s, ft³/s, cfs"},

	{Hour, 1, "h, hr, hrs, hour, hours"}, {Hour, 0.016666666666666667, "min, mins, minutes"},

	{Celsius, 1, "c, °c, degc, deg c, celsius"}, {Celsius, 0.55555555555555556, "f, °f, degf, deg f, fahrenheit"},
}

// TestEveryWordForAUnit: each word has the size in print, to the last bit but one; no word is left
// out here; and what we print in fields of our own unit is 1 of it.
func TestEveryWordForAUnit(t *testing.T) {
	seen := 0
	byDimension := map[Dimension][]string{}
	for _, u := range unitsInPrint {
		for _, word := range strings.Split(u.words, ", ") {
			seen++
			byDimension[u.ours.Of] = append(byDimension[u.ours.Of], word)
			got, known := FindUnit(word)
			if !known || got.Of != u.ours.Of || math.Abs(got.Size-u.size) > 4e-16*u.size {
				t.Errorf("%s is %+v, %v, want %v of dimension %d", word, got, known, u.size, u.ours.Of)
			}
		}
	}
	if seen != len(unitWords) {
		t.Errorf("%d words are told of, there are %d", seen, len(unitWords))
	}
	for of, words := range byDimension {
		if slices.Sort(words); !slices.Equal(UnitsOf(of), words) {
			t.Errorf("units of dimension %d: %q, want %q", of, UnitsOf(of), words)
		}
	}
	for name, u := range map[string]Unit{"km": Kilometre, "km2": SquareKilometre, "acres": Acres, "%": Percent, "h": Hour, "c": Celsius, "f": Fahrenheit} {
		if got, _ := FindUnit(name); got != u {
			t.Errorf("%s is %+v, the fields have %+v", name, got, u)
		}
	}
	if len(byDimension) != int(aTemperature) || Day.Of != aDate || Day.Size != 1 {
		t.Errorf("%d dimensions have words", len(byDimension))
	}
}

// TestEveryHedge: each word or mark before a number says whether the value is the most, the least or
// about right, with a space after it or without; and the value is the number after it.
func TestEveryHedge(t *testing.T) {
	said := map[string]string{
		toldMost: "<=|≤|<|less than|under|up to", toldLeast: ">=|≥|>|more than|over", toldAbout: "~|≈|approximately|approx.|approx|about|circa|ca.|ca|est.",
	}
	seen := 0
	for told, words := range said {
		for _, word := range strings.Split(words, "|") {
			seen++
			for _, text := range []string{word + " 12.5 m", strings.ToUpper(word) + " 12.5 M", word + "12.5 m"} {
				if q, ok := ParseQuantity(text, false, false); !ok || q != (Quantity{12.5, "m", told}) {
					t.Errorf("%q is %+v, %v, want %s", text, q, ok, told)
				}
			}
		}
	}
	if seen != len(hedges) {
		t.Errorf("%d hedges are told of, there are %d", seen, len(hedges))
	}
}

// TestEveryFraction: each character for a fraction, alone and after a whole number, and each
// denominator of measures; by hand. A fraction with another denominator, or that is a whole or more,
// is none.
func TestEveryFraction(t *testing.T) {
	for letter, want := range map[string]float64{"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 0.33333333333333333, "⅔": 0.66666666666666667, "⅛": 0.125} {
		for text, more := range map[string]float64{letter: 0, "3" + letter: 3, "3 " + letter: 3, "12" + letter + " ft": 12} {
			if q, ok := ParseQuantity(text, false, false); !ok || math.Abs(q.Value-want-more) > 1e-15*(1+more) {
				t.Errorf("%q is %+v, %v, want %v", text, q, ok, want+more)
			}
		}
	}
	if len(fractions) != 6 {
		t.Errorf("%d characters for fractions", len(fractions))
	}
	for below, ok := range map[int]bool{1: false, 2: true, 3: true, 4: true, 5: true, 6: false, 7: false, 8: true, 9: false, 10: true, 12: false, 16: true, 32: false} {
		for above := 0; above <= below; above++ {
			text := strconv.Itoa(above) + "/" + strconv.Itoa(below)
			q, is := ParseQuantity(text, false, false)
			if want := ok && above < below; is != want || is && math.Abs(q.Value-float64(above)/float64(below)) > 1e-15 {
				t.Errorf("%q is %+v, %v, want %v", text, q, is, want)
			}
			q, is = ParseQuantity("2 "+text, false, false)
			if want := ok && above < below; is != want || is && math.Abs(q.Value-2-float64(above)/float64(below)) > 1e-15 {
				t.Errorf("%q is %+v, %v, want %v", "2 "+text, q, is, want)
			}
		}
	}
}
