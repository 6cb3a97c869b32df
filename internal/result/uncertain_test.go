package result

import (
	"testing"

	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// TestZoneUncertain: an uncertainty above the setback marks the record and its
// stand; by hand.
func TestZoneUncertain(t *testing.T) {
	for uncertainty, want := range map[geo.Meters]bool{0: false, 30: false, 30.1: true} {
		run := &Run{
			Setback: 30, Records: survey.Records{Listed: []survey.Record{{Uncertainty: uncertainty}}}, StandOf: []int32{0}, InZone: []bool{true},
			Stands: []Stand{{Stand: stand.Stand{Members: []int32{0}}}},
		}
		for _, table := range []Table{StandTable(run), PointTable(run)} {
			for _, f := range table.Fields {
				if f.Name == "zone_uncertain" && (f.Value(run, 0).Int != 0) != want {
					t.Errorf("%v m in %s: %v", uncertainty, table.Name, f.Value(run, 0))
				}
			}
		}
	}
}
