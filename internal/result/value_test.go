package result

import (
	"math"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestAppendFixed: digits by hand.
func TestAppendFixed(t *testing.T) {
	for _, c := range []struct {
		n        int64
		decimals uint8
		want     string
	}{{0, 4, "0"}, {1250, 3, "1.25"}, {-1250, 3, "-1.25"}, {5, 7, "0.0000005"}, {-5, 1, "-0.5"}, {1800000000, 7, "180"}, {42, 0, "42"}, {100, 2, "1"}} {
		if got := string(AppendFixed(nil, c.n, c.decimals)); got != c.want {
			t.Errorf("%d with %d decimals: %s, want %s", c.n, c.decimals, got, c.want)
		}
	}
}

// TestAppendFixedReadsBack: strconv reads the same number.
func TestAppendFixedReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-exactLimit, exactLimit).Draw(t, "n")
		decimals := rapid.Uint8Range(0, 7).Draw(t, "decimals")
		got, err := strconv.ParseFloat(string(AppendFixed(nil, n, decimals)), 64)
		if want := float64(n) / powers[decimals]; err != nil || got != want {
			t.Errorf("%v, want %v (%v)", got, want, err)
		}
	})
}

// TestNumberRoundsOnce: half of a last digit rounds away from zero; a value that is not a number is
// blank.
func TestNumberRoundsOnce(t *testing.T) {
	for _, c := range []struct {
		x    float64
		unit Unit
		want string
	}{
		{1.00005, Acres, "1.0001"}, {-1.25, Percent, "-1.3"}, {12.3456, Meters, "12.35"}, {2, Kilometers, "2"},
		{math.NaN(), Acres, ""}, {math.Inf(1), Meters, ""}, {math.Inf(-1), Meters, ""}, {1e300, Acres, ""}, {-0.0000001, Acres, "0"},
	} {
		if got := number(c.x, c.unit).String(); got != c.want {
			t.Errorf("%v %s: %q, want %q", c.x, c.unit, got, c.want)
		}
	}
}

// TestDays: ISO 8601 days and intervals by hand.
func TestDays(t *testing.T) {
	first, last := time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC), time.Date(2026, 7, 3, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name       string
		begin, end time.Time
		want       string
	}{{"one day", first, first, "2026-07-01"}, {"interval", first, last, "2026-07-01/2026-07-03"}, {"open", first, time.Time{}, "2026-07-01"}, {"none", time.Time{}, last, ""}} {
		if got := days(c.begin, c.end).String(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestValueForms: the plain text of each kind.
func TestValueForms(t *testing.T) {
	for _, c := range []struct {
		value Value
		want  string
		float float64
	}{
		{text("a"), "a", math.NaN()}, {text(" \t"), "", math.NaN()}, {flag(true), "true", math.NaN()}, {flag(false), "false", math.NaN()},
		{count(3), "3", 3}, {number(1.5, Acres), "1.5", 1.5}, {list([]string{"a", "b"}), "a; b", math.NaN()}, {list(nil), "", math.NaN()}, {Value{}, "", math.NaN()},
	} {
		if got := c.value.String(); got != c.want {
			t.Errorf("%v: %q, want %q", c.value, got, c.want)
		}
		if got := c.value.Float(); got != c.float && !(math.IsNaN(got) && math.IsNaN(c.float)) {
			t.Errorf("%v: %v, want %v", c.value, got, c.float)
		}
	}
}

// By hand: acres as everywhere, stream lengths to a tenth, metres to whole ones, everything else to
// three digits.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		n        int64
		decimals uint8
		unit     Unit
		want     string
	}{
		{212475, 4, Acres, "21.25"}, {12429, 6, Acres, "0.0124"}, {852_149, 4, Kilometers, "85.2"}, {-852_149, 4, Kilometers, "-85.2"}, {499, 4, Kilometers, "<0.1"},
		{-499, 4, Kilometers, "<-0.1"}, {500, 4, Kilometers, "0.1"}, {0, 4, Kilometers, "0"}, {2850, 2, Meters, "29"}, {0, 2, Meters, "0"}, {60, 0, Percent, "60"},
		{0, 4, Index, "0"}, {62, 4, Index, "0.0062"}, {12345, 4, Index, "1.23"}, {212475, 4, Index, "21.2"}, {1234567, 4, Index, "123"}, {-12345, 4, Index, "-1.23"}, {99960, 4, Index, "10"},
	} {
		if got := Shown(Value{Kind: Number, Decimals: c.decimals, Int: c.n}, c.unit); got != c.want {
			t.Errorf("%d of 10^-%d %s: %s, want %s", c.n, c.decimals, c.unit, got, c.want)
		}
	}
	if got := Shown(Value{Kind: Text, Text: "so"}, Acres); got != "so" {
		t.Error(got)
	}
	six := &Run{AcreDecimals: 6} // 0.0123456789 acres print as 0.012346
	if got := six.AcresShown(123_456_789); got != "0.0123" {
		t.Error(got)
	}
}
