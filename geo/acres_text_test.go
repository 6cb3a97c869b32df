package geo

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// By hand: two decimals, half away from zero; four decimals below a tenth of an acre; and below
// that the first significant digit.
func TestAcresText(t *testing.T) {
	for _, c := range []struct {
		n        int64
		decimals int
		want     string
	}{
		{0, 4, "0"}, {212475, 4, "21.25"}, {222_170_060, 7, "22.22"}, {-160295, 6, "-0.16"}, {12429, 6, "0.0124"}, {-12429, 6, "-0.0124"},
		{1, 1, "0.1"}, {1000, 4, "0.10"}, {999, 4, "0.0999"}, {99951, 6, "0.10"}, {99949, 6, "0.0999"}, {99951, 7, "0.01"}, {6, 2, "0.06"}, {600, 4, "0.06"}, {4500, 5, "0.045"}, {19, 6, "0.00002"}, {1900, 8, "0.00002"}, {49, 6, "0.00005"}, {50, 6, "0.0001"}, {668, 6, "0.0007"}, {6180, 6, "0.0062"}, {1045, 4, "0.10"},
		{1050, 4, "0.11"}, {1049, 4, "0.10"}, {99995, 4, "10.00"}, {5, 0, "5"}, {1_234_567_8900, 4, "1234567.89"},
		{1, 10, "0.0000000001"}, {10_700_000, 10, "0.0011"}, {math.MaxInt64, 10, "922337203.69"},
	} {
		if got := AcresText(c.n, c.decimals); got != c.want {
			t.Errorf("%d of 10^-%d: %s, want %s", c.n, c.decimals, got, c.want)
		}
	}
	for acres, want := range map[Acres]string{0: "0", 1: "1.00", 0.5: "0.50", 21.247542: "21.25", -0.0557: "-0.0557", 1e-12: "0"} {
		if got := acres.Text(); got != want {
			t.Errorf("%v: %s, want %s", float64(acres), got, want)
		}
	}
}

// The text is the acreage within half of its last decimal, never with more digits than the acreage
// has. A larger acreage never gives a smaller text.
func TestAcresTextRounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, decimals := rapid.Int64Range(0, 1<<45).Draw(t, "n"), rapid.IntRange(2, 10).Draw(t, "decimals")
		text := AcresText(n, decimals)
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		_, part, _ := strings.Cut(text, ".")
		exact := float64(n) / math.Pow10(decimals)
		if len(part) > decimals || math.Abs(v-exact) > 0.5*math.Pow10(-len(part))+1e-15*exact {
			t.Fatalf("%d of 10^-%d is %s", n, decimals, text)
		}
		if more, _ := strconv.ParseFloat(AcresText(n+1, decimals), 64); more < v {
			t.Fatalf("%s, and of one unit more %v", text, more)
		}
		if n > 0 && AcresText(-n, decimals) != "-"+text {
			t.Fatal("not the same below zero")
		}
	})
}
