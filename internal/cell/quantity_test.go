package cell

import (
	"math"
	"testing"
)

// TestParseQuantity: numbers as people write them; derived by hand.
func TestParseQuantity(t *testing.T) {
	for _, c := range []struct {
		text         string
		point, comma bool
		want         Quantity
		ok           bool
	}{
		{"2,723", true, false, Quantity{2723, "", ""}, true}, {"2,723", false, false, Quantity{}, false}, {"2 723", false, false, Quantity{2723, "", ""}, true},
		{"2\u202f723", false, false, Quantity{2723, "", ""}, true}, {"2'723", false, false, Quantity{2723, "", ""}, true}, {"1.234,5", false, false, Quantity{1234.5, "", ""}, true},
		{"1,234.5", false, false, Quantity{1234.5, "", ""}, true}, {"1,234,567", false, false, Quantity{1234567, "", ""}, true}, {"1.234.567", false, false, Quantity{1234567, "", ""}, true},
		{"1 234,5", false, false, Quantity{1234.5, "", ""}, true}, {"1.234", false, true, Quantity{1234, "", ""}, true}, {"12,34,567", false, false, Quantity{}, false},
		{"1.23.4", false, false, Quantity{}, false}, {"1 2", false, false, Quantity{}, false}, {"1.234 567", false, false, Quantity{}, false}, {"-1,234", true, false, Quantity{-1234, "", ""}, true},
		{"55%", false, false, Quantity{55, "%", ""}, true}, {"1/2 ac", false, false, Quantity{0.5, "ac", ""}, true}, {"1 1/2 acres", false, false, Quantity{1.5, "acres", ""}, true},
		{"2½ ac", false, false, Quantity{2.5, "ac", ""}, true}, {"¼", false, false, Quantity{0.25, "", ""}, true}, {"7/13", false, false, Quantity{}, false}, {"3/2", false, false, Quantity{}, false},
		{"12 ft", false, false, Quantity{12, "ft", ""}, true}, {"12ft.", false, false, Quantity{12, "ft", ""}, true}, {"<0.1 ac", false, false, Quantity{0.1, "ac", toldMost}, true},
		{"~30", false, false, Quantity{30, "", toldAbout}, true}, {"ca. 30 m", false, false, Quantity{30, "m", toldAbout}, true}, {">95 %", false, false, Quantity{95, "%", toldLeast}, true},
		{"30+", false, false, Quantity{30, "", toldLeast}, true}, {"10-20%", false, false, Quantity{15, "%", toldRange}, true}, {"5 to 25 %", false, false, Quantity{15, "%", toldRange}, true},
		{"10–20", false, false, Quantity{15, "", toldRange}, true}, {"20-10", false, false, Quantity{20, "-10", ""}, true}, {`5'6"`, false, false, Quantity{5.5, "ft", ""}, true},
		{"5 ft 6 in", false, false, Quantity{5.5, "ft", ""}, true}, {"1200 ft2", false, false, Quantity{1200, "ft2", ""}, true}, {"1200ft2", false, false, Quantity{1200, "ft2", ""}, true},
		{"5 ft 2", false, false, Quantity{5 + 2.0/12, "ft", ""}, true}, {"5'2", false, false, Quantity{5 + 2.0/12, "ft", ""}, true}, {"5ft 2in", false, false, Quantity{5 + 2.0/12, "ft", ""}, true}, {"40 feet3", false, false, Quantity{40, "feet3", ""}, true}, {"1e3 ft", false, false, Quantity{1, "e3 ft", ""}, true}, {"tall", false, false, Quantity{}, false}, {"", false, false, Quantity{}, false},
		{"<", false, false, Quantity{}, false}, {"1,", true, false, Quantity{1, ",", ""}, true}, {",123", true, false, Quantity{}, false}, {"2,723 sq ft", true, false, Quantity{2723, "sq ft", ""}, true}, {"0,5 ha", false, false, Quantity{0.5, "ha", ""}, true},
	} {
		got, ok := ParseQuantity(c.text, c.point, c.comma)
		if ok != c.ok || ok && (got.Unit != c.want.Unit || got.Told != c.want.Told || math.Abs(got.Value-c.want.Value) > 1e-12) {
			t.Errorf("%q reads as %+v, %v, want %+v, %v", c.text, got, ok, c.want, c.ok)
		}
	}
}

// FuzzQuantity: no text makes a value that is not finite.
func FuzzQuantity(f *testing.F) {
	for _, text := range []string{"2,723", "1/2 ac", "<0.1 ac", "10-20%", `5'6"`, "1.234,5", "½", "9999999999999999999999999999999999999999999999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if q, ok := ParseQuantity(text, len(text)%2 == 0, len(text)%3 == 0); ok && (math.IsNaN(q.Value) || math.IsInf(q.Value, 0)) {
			t.Errorf("%q is %v", text, q.Value)
		}
	})
}
