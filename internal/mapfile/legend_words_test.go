package mapfile

import (
	"strings"
	"testing"
)

// TestLegendSaysWhatALookIs: works are lines and not the zone, a stand not detected since
// is an outline and no ring, and the picture has where to look next.
func TestLegendSaysWhatALookIs(t *testing.T) {
	for _, c := range []struct {
		look look
		want string
	}{
		{workLook(), ": broad black line, areas pale within it"},
		{zoneLook(), ": pale area along the water"},
		{absentLook(), ": thin dark outline, nothing in it"},
		{nextLook(false), ": line 9 pixels wide"},
	} {
		if got := manner(c.look); got != c.want {
			t.Errorf("%s%s, want %s", c.look.label, got, c.want)
		}
	}
	if !strings.Contains(LegendPage(), "look here next") || !strings.Contains(LegendPage(), "planned work to warn") {
		t.Error("the picture has no works or nowhere to look next")
	}
}
