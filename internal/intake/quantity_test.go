package intake

import (
	"math"
	"strings"
	"testing"
)

// TestParseQuantity: numbers as people write them; derived by hand.
func TestParseQuantity(t *testing.T) {
	for _, c := range []struct {
		text         string
		point, comma bool
		want         quantity
		ok           bool
	}{
		{"2,723", true, false, quantity{2723, "", ""}, true}, {"2,723", false, false, quantity{}, false}, {"2 723", false, false, quantity{2723, "", ""}, true},
		{"2\u202f723", false, false, quantity{2723, "", ""}, true}, {"2'723", false, false, quantity{2723, "", ""}, true}, {"1.234,5", false, false, quantity{1234.5, "", ""}, true},
		{"1,234.5", false, false, quantity{1234.5, "", ""}, true}, {"1,234,567", false, false, quantity{1234567, "", ""}, true}, {"1.234.567", false, false, quantity{1234567, "", ""}, true},
		{"1 234,5", false, false, quantity{1234.5, "", ""}, true}, {"1.234", false, true, quantity{1234, "", ""}, true}, {"12,34,567", false, false, quantity{}, false},
		{"1.23.4", false, false, quantity{}, false}, {"1 2", false, false, quantity{}, false}, {"1.234 567", false, false, quantity{}, false}, {"-1,234", true, false, quantity{-1234, "", ""}, true},
		{"55%", false, false, quantity{55, "%", ""}, true}, {"1/2 ac", false, false, quantity{0.5, "ac", ""}, true}, {"1 1/2 acres", false, false, quantity{1.5, "acres", ""}, true},
		{"2½ ac", false, false, quantity{2.5, "ac", ""}, true}, {"¼", false, false, quantity{0.25, "", ""}, true}, {"7/13", false, false, quantity{}, false}, {"3/2", false, false, quantity{}, false},
		{"12 ft", false, false, quantity{12, "ft", ""}, true}, {"12ft.", false, false, quantity{12, "ft", ""}, true}, {"<0.1 ac", false, false, quantity{0.1, "ac", toldMost}, true},
		{"~30", false, false, quantity{30, "", toldAbout}, true}, {"ca. 30 m", false, false, quantity{30, "m", toldAbout}, true}, {">95 %", false, false, quantity{95, "%", toldLeast}, true},
		{"30+", false, false, quantity{30, "", toldLeast}, true}, {"10-20%", false, false, quantity{15, "%", toldRange}, true}, {"5 to 25 %", false, false, quantity{15, "%", toldRange}, true},
		{"10–20", false, false, quantity{15, "", toldRange}, true}, {"20-10", false, false, quantity{20, "-10", ""}, true}, {`5'6"`, false, false, quantity{5.5, "ft", ""}, true},
		{"5 ft 6 in", false, false, quantity{5.5, "ft", ""}, true}, {"1e3 ft", false, false, quantity{1, "e3 ft", ""}, true}, {"tall", false, false, quantity{}, false}, {"", false, false, quantity{}, false},
		{"<", false, false, quantity{}, false}, {"1,", true, false, quantity{1, ",", ""}, true}, {",123", true, false, quantity{}, false}, {"2,723 sq ft", true, false, quantity{2723, "sq ft", ""}, true}, {"0,5 ha", false, false, quantity{0.5, "ha", ""}, true},
	} {
		got, ok := parseQuantity(c.text, c.point, c.comma)
		if ok != c.ok || ok && (got.unit != c.want.unit || got.told != c.want.told || math.Abs(got.value-c.want.value) > 1e-12) {
			t.Errorf("%q reads as %+v, %v, want %+v, %v", c.text, got, ok, c.want, c.ok)
		}
	}
}

// TestCellsOfPeople: each reads in the unit of its field; a bound, a guess and a
// range are told of; a unit of another kind is no number.
func TestCellsOfPeople(t *testing.T) {
	o := testOptions()
	o.Mapping.Columns = single(map[string]string{"patch_area_m2": "Area (sq ft)", "stem_height_m": "Ht_ft", "canopy_cover_percent": "Cover %", "coordinateUncertaintyInMeters": "GPS Acc"})
	text := `occurrenceID,eventDate,lon,lat,Area (sq ft),Ht_ft,Cover %,GPS Acc
a,2026-07-01,-117.20001,34.10001,"2,723",12 ft,55%,3 m
b,2026-07-01,-117.20101,34.10001,1/2 ac,"5'6""",~30,10 ft
c,2026-07-01,-117.20201,34.10001,<0.1 ac,4 m,25-50%,5
d,2026-07-01,-117.20301,34.10001,12 m,tall,3 ft,5
`
	records, findings, _ := readPoints(t, text, o)
	const want = "unit-mixed; unit-by-name; unit-by-name; b number-approximate; c number-approximate; c number-approximate; d number-unreadable; d number-unreadable; d number-unreadable"
	if codes(findings) != want {
		t.Fatalf("%s, want %s", codes(findings), want)
	}
	for i, w := range [][4]float64{
		{2723 * 0.09290304, 3.6576, 55, 3}, {2023.4282112, 1.6764, 30, 3.048}, {404.68564224, 4, 37.5, 5}, {0, math.NaN(), math.NaN(), 5},
	} {
		r := records[i]
		got := [4]float64{float64(r.PatchArea), r.StemHeight, r.Cover, float64(r.Uncertainty)}
		for k := range w {
			if math.Abs(got[k]-w[k]) > 1e-9 || math.IsNaN(got[k]) != math.IsNaN(w[k]) {
				t.Errorf("%s: %v, want %v", r.ID, got, w)
			}
		}
	}
	if !strings.Contains(findings[3].Message, "30, about as much") {
		t.Errorf("%s", findings[3].Message)
	}
}

// FuzzQuantity: no text makes a value that is not finite.
func FuzzQuantity(f *testing.F) {
	for _, text := range []string{"2,723", "1/2 ac", "<0.1 ac", "10-20%", `5'6"`, "1.234,5", "½", "9999999999999999999999999999999999999999999999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if q, ok := parseQuantity(text, len(text)%2 == 0, len(text)%3 == 0); ok && (math.IsNaN(q.value) || math.IsInf(q.value, 0)) {
			t.Errorf("%q is %v", text, q.value)
		}
	})
}
