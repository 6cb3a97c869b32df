package batch

import "testing"

// TestAcresOfOldFolders: a stand of a folder without exact acres is taken at what
// was printed; one with them at those, and garbage is refused.
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
}
