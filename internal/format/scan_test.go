package format

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestScanNumber holds the scanner to strconv.ParseFloat, bit for bit.
func TestScanNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(
			rapid.StringMatching(`[+-]?[0-9]{1,25}(\.[0-9]{0,25})?([eE][+-]?[0-9]{1,3})?`),
			rapid.StringMatching(`-?[0-9]{1,3}\.[0-9]{1,16}`),
			rapid.Custom(func(t *rapid.T) string { return strconv.FormatFloat(rapid.Float64().Draw(t, "v"), 'g', -1, 64) }),
		).Draw(t, "text")
		if _, err := strconv.ParseFloat(text, 64); err != nil && !math.IsInf(mustInf(text), 0) {
			return // Inf and NaN as words
		}
		want, _ := strconv.ParseFloat(text, 64)
		got, next, ok := ScanNumber([]byte(text+"\x00"), 0)
		if math.IsNaN(want) || math.IsInf(want, 0) && text[len(text)-1] == 'f' {
			if ok {
				t.Fatalf("%q scans as %v", text, got)
			}
			return
		}
		if !ok || next != len(text) || math.Float64bits(got) != math.Float64bits(want) {
			t.Fatalf("%q scans as %v up to %d (%v), want %v", text, got, next, ok, want)
		}
	})
}

func mustInf(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64)
	return v
}

// TestPlainNumber: what the short way reads is what the long one reads, bit for
// bit, and it leaves nothing ordinary to it.
func TestPlainNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`-?[0-9]{0,10}(\.[0-9]{0,9})?|[-+.0-9e ]{0,20}`).Draw(t, "text")
		got, ok := PlainNumber([]byte(text))
		want, next, good := ScanNumber([]byte(text+"\x00"), 0)
		good = good && next == len(text)
		if ok && (!good || math.Float64bits(got) != math.Float64bits(want)) {
			t.Fatalf("%q reads as %v, want %v (%v)", text, got, want, good)
		}
		if good && !ok && len(text) <= 15 && !strings.ContainsAny(text, "e+") {
			t.Fatalf("%q is left to the long way", text)
		}
	})
}
