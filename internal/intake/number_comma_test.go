package intake

import "testing"

// TestCommasInNumbers: a comma in a number is decimal or parts thousands; by hand.
func TestCommasInNumbers(t *testing.T) {
	for _, c := range []struct {
		name, text string
		lon, area  float64
		found      string
	}{
		{"commas part cells", `"-117,1211508","34,0476537","80,4"`, -117.1211508, 80.4, ""},
		{"three digits of degrees", `"-117,121","34,0476537","0,125"`, -117.121, 0.125, ""},
		{"maybe thousands", `"-117,1211508","34,0476537","1,250"`, -117.1211508, 0, "a number-unreadable"},
		// two commas take a million at least, which is as much as a patch may have by default
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
