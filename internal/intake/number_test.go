package intake

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
		kind  numeral
	}{
		{"1.5", false, 1.5, goodNumber}, {" -1.5 ", false, -1.5, goodNumber}, {"+2", false, 2, goodNumber}, {".5", false, 0.5, goodNumber}, {"5.", false, 5, goodNumber},
		{"1e3", false, 1000, goodNumber}, {"1E-2", false, 0.01, goodNumber}, {"1,5", true, 1.5, goodNumber}, {"1.5", true, 1.5, goodNumber}, {"-0,25", true, -0.25, goodNumber},
		{"1,5", false, 0, badNumber}, {"1,000.5", true, 0, badNumber}, {"1,2,3", true, 0, badNumber}, {"1 000", false, 0, badNumber},
		{"", false, 0, blankNumber}, {"NA", false, 0, blankNumber}, {"n/a", false, 0, blankNumber}, {"NULL", false, 0, blankNumber},
		{"NaN", false, 0, notFinite}, {"-inf", false, 0, notFinite}, {"Infinity", false, 0, notFinite}, {"1e999", false, 0, notFinite}, {"-1e999", false, 0, notFinite},
		{"12m", false, 0, badNumber}, {"0x1p3", false, 0, badNumber}, {"1_000", false, 0, badNumber}, {"--1", false, 0, badNumber}, {"e5", false, 0, badNumber}, {"-", false, 0, badNumber},
		{"0.1000000000000000055511151231257827021181583404541015625", false, 0.1, goodNumber},
		{"0.1000000000000000055511151231257827021181583404541015625x", false, 0, badNumber},
	} {
		v, kind := parseNumber([]byte(c.text), c.comma)
		if kind != c.kind || kind == goodNumber && v != c.want || kind != goodNumber && !math.IsNaN(v) {
			t.Errorf("%q reads as %v, %d, want %v, %d", c.text, v, kind, c.want, c.kind)
		}
	}
}

func TestWholeText(t *testing.T) {
	for text, want := range map[string]string{"17.0": "17", "17.000": "17", "17": "17", "17.": "17", "-3.0": "-3", "17.5": "17.5", "a.0": "a.0", ".0": ".0", "1.0.0": "1.0.0", "": ""} {
		if got := string(wholeText([]byte(text))); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

func BenchmarkParseNumber(b *testing.B) {
	texts := make([][]byte, 64)
	for i := range texts {
		texts[i] = fmt.Appendf(nil, "-78.%07d", i*997)
	}
	for i := 0; b.Loop(); i++ {
		parseNumber(texts[i%64], false)
	}
}
