package intake

import (
	"math"
	"strings"
	"testing"
)

// TestCellsOfPeople: each cell is read in the unit of its field. A bound, an estimate and a range
// are reported; a unit of another kind is not a number.
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
		got := [4]float64{float64(r.PatchArea), float64(r.StemHeight), r.Cover, float64(r.Uncertainty)}
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

// TestCommasInNumbers: a comma in a number is a decimal comma or separates thousands; by hand.
func TestCommasInNumbers(t *testing.T) {
	for _, c := range []struct {
		name, text string
		lon, area  float64
		found      string
	}{
		{"commas part cells", `"-117,1211508","34,0476537","80,4"`, -117.1211508, 80.4, ""},
		{"three digits of degrees", `"-117,121","34,0476537","0,125"`, -117.121, 0.125, ""},
		{"maybe thousands", `"-117,1211508","34,0476537","1,250"`, -117.1211508, 0, "a number-unreadable"},
		// two commas mean a million at least, which is the default limit of a patch
		{"commas twice", `"-117,1211508","34,0476537","1,000,000"`, -117.1211508, 1_000_000, ""},
		{"semicolons", "-117,1211508;34,0476537;1,250", -117.1211508, 1.25, ""},
		{"points beside", "-117.1211508;34.0476537;1,250", -117.1211508, 1250, ""},
		{"points beside, between commas", `"-117.1211508","34.0476537","1,250"`, -117.1211508, 1250, ""},
		{"decimal commas beside", "-117,1211508;34,0476537;1.250", -117.1211508, 1250, ""},
		{"decimal points", "-117.1211508;34.0476537;1.250", -117.1211508, 1.25, ""},
		{"both marks", "-117,1211508;34,0476537;1.250,5", -117.1211508, 1250.5, ""},
		{"points beside, no thousands", "-117.1211508;34.0476537;1,25", -117.1211508, 1.25, ""},
	} {
		header := "decimalLongitude,decimalLatitude,patch_area_m2,occurrenceID,eventDate\n"
		row := c.text + ",a,2026-07-01"
		if c.text[0] != '"' {
			header, row = "decimalLongitude;decimalLatitude;patch_area_m2;occurrenceID;eventDate\n", c.text+";a;2026-07-01"
		}
		records, findings, _ := readPoints(t, header+row+"\n", testOptions())
		if len(records) != 1 || records[0].Position[0] != c.lon || float64(records[0].PatchArea) != c.area || codes(findings) != c.found {
			t.Errorf("%s: %+v, %s", c.name, records, codes(findings))
		}
	}
}
