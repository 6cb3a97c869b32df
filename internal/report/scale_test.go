package report

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// By hand.
func TestScales(t *testing.T) {
	for most, want := range map[float64]scale{
		0: {1, 0.2, 1}, 1: {1, 0.2, 1}, 25.4: {30, 10, 0}, 93: {100, 20, 0}, 0.0007: {0.0008, 0.0002, 4}, 1001: {1500, 500, 0}, 5: {5, 1, 0},
	} {
		got := scaleTo(most)
		if math.Abs(got.Top-want.Top) > 1e-12 || math.Abs(got.Step-want.Step) > 1e-12 || got.Decimals != want.Decimals {
			t.Errorf("scaleTo(%v) = %+v, want %+v", most, got, want)
		}
	}
}

// Every scale covers its values, with few steps, none finer than the digits of its labels.
func TestScaleProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		most := rapid.Float64Range(1e-4, 1e12).Draw(t, "most")
		s := scaleTo(most)
		ticks := s.ticks()
		if s.Top < most*(1-1e-9) || s.Top > 2*most+1e-9 && len(ticks) > 2 || len(ticks) < 2 || len(ticks) > mostSteps+1 {
			t.Fatalf("%v: %+v, %v", most, s, ticks)
		}
		if ticks[0] != 0 || math.Abs(ticks[len(ticks)-1]-s.Top) > 1e-9*s.Top {
			t.Fatalf("%v: %v", most, ticks)
		}
		for i := 1; i < len(ticks); i++ {
			if s.label(ticks[i]) == s.label(ticks[i-1]) {
				t.Fatalf("%v: two ticks read %s", most, s.label(ticks[i]))
			}
		}
	})
}

func TestNumbersInGroups(t *testing.T) {
	const thin = "\u202f"
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 0, "0"}, {999, 0, "999"}, {1000, 0, "1" + thin + "000"}, {1234567.891, 2, "1" + thin + "234" + thin + "567.89"},
		{123456, 1, "123" + thin + "456.0"}, {-1234, 0, "-1" + thin + "234"}, {-123, 0, "-123"},
	} {
		if got := grouped(c.v, c.decimals); got != c.want {
			t.Errorf("grouped(%v, %d) = %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
}

// By hand: 716 units have room for 13 labels, 130 for two.
func TestLabelledQuarters(t *testing.T) {
	for _, c := range []struct {
		name  string
		n     int
		width float64
		want  []int
	}{
		{"one", 1, 716, []int{0}},
		{"all fit", 4, 716, []int{0, 1, 2, 3}},
		{"one a year, the last one's quarter", 14, 716, []int{1, 5, 9, 13}},
		{"one in three years", 40, 236, []int{3, 15, 27, 39}},
		{"first and last", 9, 130, []int{0, 8}},
		{"two", 2, 130, []int{0, 1}},
		{"no room", 3, 20, []int{2}},
	} {
		if d := cmp.Diff(c.want, labelled(c.n, c.width)); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
	}
}

// Names keep their order, do not overlap, and stay within the chart while there is room.
func TestNamesSpreadApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "names")
		ends := make([]end, n)
		for i := range ends {
			ends[i].from.y = rapid.Float64Range(100, 300).Draw(t, "y")
			ends[i].y = ends[i].from.y
		}
		spread(ends, 100, 300)
		for i := range ends {
			if ends[i].y < 100-1e-9 || ends[i].y > 300+1e-9 {
				t.Fatalf("%v outside", ends[i].y)
			}
			if i > 0 && (ends[i].y-ends[i-1].y < between-1e-9 || ends[i].from.y < ends[i-1].from.y) {
				t.Fatalf("%+v", ends)
			}
		}
	})
}

func TestShorten(t *testing.T) {
	if got := shorten("ärmel", 5); got != "ärmel" {
		t.Error(got)
	}
	if got := shorten("ärmelkanal", 5); got != "ärme…" {
		t.Error(got)
	}
}

func TestLengths(t *testing.T) {
	for in, want := range map[float64]string{0: "0", -0.01: "0", 12.34: "12.3", 12.96: "13", -3.25: "-3.2", 100: "100"} {
		if got := length(in); got != want {
			t.Errorf("length(%v) = %q, want %q", in, got, want)
		}
	}
}
