package result

import (
	"slices"
	"testing"

	"driftreach/internal/aquatic"
)

// A width taken from the table by stream order is listed as assumed with the stand or zone that
// uses it, in alphabetical order with the other assumed values; a recorded width is not listed.
func TestAssumedNamesTheWidth(t *testing.T) {
	run := &Run{Assumed: []string{"aquatic.setback_m", "stands.default_cover_percent"}}
	for _, test := range []struct {
		assumed     bool
		stand, zone []string
	}{
		{true, []string{widthSetting, "stands.default_cover_percent"}, []string{widthSetting, "aquatic.setback_m"}},
		{false, []string{"stands.default_cover_percent"}, []string{"aquatic.setback_m"}},
	} {
		s := Stand{Zone: aquatic.Membership{WidthAssumed: test.assumed}}
		s.Assumed = []string{"stands.default_cover_percent"}
		if got := standAssumed(&s); !slices.Equal(got, test.stand) {
			t.Errorf("stand, width assumed %v: %q, want %q", test.assumed, got, test.stand)
		}
		if got := zoneAssumed(run, &aquatic.Zone{WidthAssumed: test.assumed}); !slices.Equal(got, test.zone) {
			t.Errorf("zone, width assumed %v: %q, want %q", test.assumed, got, test.zone)
		}
	}
}
