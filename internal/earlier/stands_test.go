package earlier

import (
	"strings"
	"testing"

	"driftreach/internal/survey"
)

// TestAcresOfOldFolders: a stand of an old folder without exact acres gets the printed acres; a
// stand with exact acres gets those; invalid text is rejected.
func TestAcresOfOldFolders(t *testing.T) {
	geometry := []byte(`{"type":"Polygon","coordinates":[[[-40,-33],[-39.99969,-33],[-39.99969,-32.99969],[-40,-33]]]}`)
	properties := []byte(`{"stand_id":"2026Q2-0001","quarter":"2026Q2","management_status":"untreated","gross_acres":0.2,"infested_acres":0.1234,"canopy_acres":0.1,"zone_acres":0.05}`)
	for head, want := range map[string]float64{
		`{"type":"Feature","id":"2026Q2-0001"`: 0.1234,
		`{"type":"Feature","id":"2026Q2-0001"` + exactMark + `{"Gross":0.2,"Infested":0.12341,"Canopy":0.1,"Zone":0.05}`: 0.12341,
	} {
		known, err := knownOf([]byte(head), geometry, properties)
		if got := float64(known.Infested.Acres()); err != nil || got < want-1e-12 || got > want+1e-12 {
			t.Errorf("%s: %v acres, want %v (%v)", head, got, want, err)
		}
	}
	if _, err := knownOf([]byte(`{"type":"Feature"`+exactMark+`{`), geometry, properties); err == nil {
		t.Error("half of the exact acres were read")
	}
	for _, exact := range []string{
		`{"Gross":0.3,"Infested":0.1234,"Canopy":0.1,"Zone":0.05}`, `{"Gross":0.2,"Infested":0.1236,"Canopy":0.1,"Zone":0.05}`,
		`{"Gross":0.2,"Infested":0.1234,"Canopy":0.12,"Zone":0.05}`, `{"Gross":0.2,"Infested":0.1234,"Canopy":0.1,"Zone":0}`,
	} {
		if _, err := knownOf([]byte(`{"type":"Feature"`+exactMark+exact), geometry, properties); err == nil || !strings.Contains(err.Error(), "and the exact value is 0") {
			t.Errorf("exactly %s, printed otherwise: %v", exact, err)
		}
	}
}

// TestMeasuresOfEarlierRecords: a record of an earlier folder with a measure that no batch accepts
// is reported with its name; a record without measures is sound.
func TestMeasuresOfEarlierRecords(t *testing.T) {
	reading := recordReader{ours: map[string]bool{}, columns: map[string]int{}, quarter: survey.Quarter{Year: 2026, Number: 1}}
	geometry := []byte(`{"type":"Point","coordinates":[-40,-33]}`)
	for measure, want := range map[string]string{
		`"stem_height_m":null`:                  "",
		`"patch_area_m2":1e9`:                   "",
		`"patch_area_m2":1e308`:                 "record r: patch_area_m2 is 1e+308",
		`"patch_area_m2":-1`:                    "record r: patch_area_m2 is -1",
		`"canopy_cover_percent":100.5`:          "record r: canopy_cover_percent is 100.5",
		`"stem_height_m":-2`:                    "record r: stem_height_m is -2",
		`"coordinateUncertaintyInMeters":-3`:    "record r: coordinateUncertaintyInMeters is -3",
		`"coordinateUncertaintyInMeters":1e300`: "record r: coordinateUncertaintyInMeters is 1e+300",
	} {
		_, err := reading.record(geometry, []byte(`{"occurrenceID":"r",`+measure+`}`))
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v, want %q", measure, err, want)
		}
	}
}
