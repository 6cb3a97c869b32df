package valued

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

// Places that cannot be used are reported; a missing weight counts as 1.
func TestCheck(t *testing.T) {
	at := orb.MultiPoint{{-128, -38}}
	places := []Place{
		{ID: "a", Row: 1, Weight: 3, Points: at.Clone()}, {ID: "b", Row: 2, Weight: math.NaN(), Points: orb.MultiPoint{{-128, -38.5}}},
		{ID: "c", Row: 3, Weight: -1, Points: at.Clone()}, {ID: "d", Row: 4, Weight: 1}, {ID: "f", Row: 6, Points: orb.MultiPoint{{-128, -38.6}}}, {ID: "e", Row: 5, Weight: 1, Points: orb.MultiPoint{{0, 0}}},
	}
	kept, findings := Check(places, Options{})
	var codes []string
	for _, f := range findings {
		codes = append(codes, f.Rule.Code)
	}
	if diff := cmp.Diff([]string{"value-weight-missing", "value-weight-negative", "value-empty", "value-null-island"}, codes); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	if len(kept) != 3 || kept[0].Weight != 3 || kept[1].Weight != 1 || kept[2].Weight != 0 {
		t.Errorf("kept %+v", kept)
	}
}
