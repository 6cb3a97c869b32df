package cell

import (
	"fmt"
	"math"
	"testing"
)

// TestParseNumber: how cells read; derived by hand.
func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		text  string
		comma bool
		want  float64
		kind  Numeral
	}{
		{"1.5", false, 1.5, GoodNumber}, {" -1.5 ", false, -1.5, GoodNumber}, {"+2", false, 2, GoodNumber}, {".5", false, 0.5, GoodNumber}, {"5.", false, 5, GoodNumber},
		{"1e3", false, 1000, GoodNumber}, {"1E-2", false, 0.01, GoodNumber}, {"1,5", true, 1.5, GoodNumber}, {"1.5", true, 1.5, GoodNumber}, {"-0,25", true, -0.25, GoodNumber},
		{"1,5", false, 0, BadNumber}, {"1,000.5", true, 0, BadNumber}, {"1,2,3", true, 0, BadNumber}, {"1 000", false, 0, BadNumber},
		{"", false, 0, BlankNumber}, {"NA", false, 0, BlankNumber}, {"n/a", false, 0, BlankNumber}, {"NULL", false, 0, BlankNumber},
		{"NaN", false, 0, NotFinite}, {"-inf", false, 0, NotFinite}, {"Infinity", false, 0, NotFinite}, {"1e999", false, 0, NotFinite}, {"-1e999", false, 0, NotFinite},
		{"12m", false, 0, BadNumber}, {"0x1p3", false, 0, BadNumber}, {"1_000", false, 0, BadNumber}, {"--1", false, 0, BadNumber}, {"e5", false, 0, BadNumber}, {"-", false, 0, BadNumber},
		{"0.1000000000000000055511151231257827021181583404541015625", false, 0.1, GoodNumber},
		{"0.1000000000000000055511151231257827021181583404541015625x", false, 0, BadNumber},
	} {
		v, kind := ParseNumber([]byte(c.text), c.comma)
		if kind != c.kind || kind == GoodNumber && v != c.want || kind != GoodNumber && !math.IsNaN(v) {
			t.Errorf("%q reads as %v, %d, want %v, %d", c.text, v, kind, c.want, c.kind)
		}
	}
}

func BenchmarkParseNumber(b *testing.B) {
	texts := make([][]byte, 64)
	for i := range texts {
		texts[i] = fmt.Appendf(nil, "-78.%07d", i*997)
	}
	for i := 0; b.Loop(); i++ {
		ParseNumber(texts[i%64], false)
	}
}
