package earlier

import (
	"reflect"
	"testing"

	"driftreach/internal/field"
)

// The tags for properties read from the previous batch must be names in the dictionary. Go does not
// accept constants in tags, so this list compares each tag with its constant.
func TestTagsAreOfTheDictionary(t *testing.T) {
	want := map[string]string{
		"ID": field.StandID, "Quarter": field.Quarter, "Isolated": field.Isolated, "First": field.FirstDetected,
		"Last": field.LastDetected, "Status": field.ManagementStatus, "CarriedFrom": field.CarriedFrom,
		"LastQuarter": field.LastQuarter, "AbsentSince": field.AbsentSince, "Cover": field.CanopyCoverPercent,
		"Gross": field.GrossAcres, "Infested": field.InfestedAcres, "Canopy": field.CanopyAcres, "Zone": field.ZoneAcres,
		"Assumed": field.Assumed, "StemHeight": field.StemHeightM, "StreamID": field.StreamID,
		"WaterBody": field.WaterBody, "RiverKm": field.RiverKm,
	}
	tagged := 0
	for _, f := range reflect.VisibleFields(reflect.TypeFor[knownProperties]()) {
		if f.Anonymous {
			continue
		}
		tagged++
		if got := f.Tag.Get("json"); got != want[f.Name] || got == "" {
			t.Errorf("%s is read by the name %q, and the dictionary writes %q", f.Name, got, want[f.Name])
		}
	}
	if tagged != len(want) {
		t.Errorf("%d properties are read, and %d are listed here", tagged, len(want))
	}
}
