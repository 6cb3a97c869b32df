package column

import (
	"strings"
	"testing"

	"driftreach/internal/cell"
)

// TestUnitsThatAreNone: a unit that is impossible for a field is reported; a possible unit is not,
// nor is the unit of a field without units.
func TestUnitsThatAreNone(t *testing.T) {
	fields := []Field{{Name: "patch_area_m2", In: cell.SquareMetre}, {Name: "stem_height_m", In: cell.Metre}}
	for units, want := range map[string]string{"": "", "ft2": "", "acres": "", "furlongs of land": "furlongs of land"} {
		m := Mapping{Units: map[string]string{"patch_area_m2": units}}
		err := m.Check(fields)
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("unit %q: %v", units, err)
		}
	}
}
