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

// TestLengthTimesWidth: two sides make square metres (a foot is 0.3048 m, NIST SP 811); a side
// without a unit has the other's, and what is no length is no side.
func TestLengthTimesWidth(t *testing.T) {
	const foot = 0.3048
	for text, want := range map[string]float64{
		"34 x 20 ft": 680 * foot * foot, "34x20ft": 680 * foot * foot, "34 ft x 20 ft": 680 * foot * foot, "34' x 20'": 680 * foot * foot, "5'6\" × 4'": 22 * foot * foot,
		"10 m by 2.5 m": 25, "10m*3 ft.": 10 * 3 * foot, "~ 10 x 4 m": 40, "2,5 x 4 m": 10, "1/2 x 3 yd": 1.5 * 9 * foot * foot, "100 cm x 2": 0.02,
	} {
		q, ok := ParseQuantity(text, false, false)
		if !ok || q.Unit != "m2" || math.Abs(q.Value-want) > 1e-9*want {
			t.Errorf("%q reads as %+v, %v, want %v m2", text, q, ok, want)
		}
	}
	for _, text := range []string{"34 x 20", "34 x ft", "x 20 ft", "34 x 20 ac", "34 ac x 20 ft", "3 x 4 x 5 m", "34 x 20 ft2", "a x b", "two by four"} {
		if q, ok := ParseQuantity(text, false, false); ok && q.Unit == "m2" {
			t.Errorf("%q reads as %+v", text, q)
		}
	}
	if q, _ := ParseQuantity("~10 x 4 m", false, false); q.Told != toldAbout {
		t.Errorf("a guess says %q", q.Told)
	}
}

// FuzzQuantity: no text makes a value that is not finite.
func FuzzQuantity(f *testing.F) {
	for _, text := range []string{"2,723", "1/2 ac", "<0.1 ac", "10-20%", `5'6"`, "1.234,5", "½", "34 x 20 ft", "9e9 x 9 km", "9999999999999999999999999999999999999999999999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if q, ok := ParseQuantity(text, len(text)%2 == 0, len(text)%3 == 0); ok && (math.IsNaN(q.Value) || math.IsInf(q.Value, 0)) {
			t.Errorf("%q is %v", text, q.Value)
		}
	})
}
