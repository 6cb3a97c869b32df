package result

import (
	"slices"
	"testing"

	"driftreach/internal/aquatic"
)

// A width from the table by order is named as assumed with the stand or zone that it
// stands in for, beside what is assumed anyway, in the order of the alphabet; a
// width that was recorded is not.
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
