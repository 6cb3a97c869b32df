package observed

import (
	"maps"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/stream"
)

// TestWaterContent: what the water is made of has a digest by kind of input, and none where there is
// nothing of the kind; other water has another, and the same water the same, whatever else is in the
// quarter.
func TestWaterContent(t *testing.T) {
	line := func(east float64) []stream.Centerline {
		return []stream.Centerline{{ID: "a", Name: "Alder Creek", Path: orb.LineString{{10, 20}, {10 + east, 20.1}}}}
	}
	weir := []stream.Structure{{ID: "w"}}
	lake := []stream.Surface{{ID: "l"}}
	kinds := func(in Quarter) []string { return slices.Sorted(maps.Keys(in.WaterContent())) }
	for name, c := range map[string]struct {
		in   Quarter
		want []string
	}{
		"streams":               {Quarter{Centerlines: line(0.1)}, []string{"streams"}},
		"streams and a weir":    {Quarter{Centerlines: line(0.1), Barriers: weir}, []string{"barriers", "streams"}},
		"streams and a lake":    {Quarter{Centerlines: line(0.1), Water: lake}, []string{"streams", "water"}},
		"all of them":           {Quarter{Centerlines: line(0.1), Water: lake, Barriers: weir, WorksGiven: true}, []string{"barriers", "streams", "water"}},
		"neither weir nor lake": {Quarter{Centerlines: line(0.1), Barriers: []stream.Structure{}, Water: []stream.Surface{}}, []string{"streams"}},
	} {
		if d := cmp.Diff(c.want, kinds(c.in)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
	one, other, again := Quarter{Centerlines: line(0.1)}, Quarter{Centerlines: line(0.2)}, Quarter{Centerlines: line(0.1), WorksGiven: true, Barriers: weir}
	if one.WaterContent()["streams"] == other.WaterContent()["streams"] {
		t.Error("other streams have the same digest")
	}
	if one.WaterContent()["streams"] != again.WaterContent()["streams"] {
		t.Error("the same streams have another digest")
	}
}
