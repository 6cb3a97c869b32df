package earth

import (
	"testing"

	"github.com/paulmach/orb"
)

// TestAppendNew: a point equal to the last one in the list is left out.
func TestAppendNew(t *testing.T) {
	a, b := orb.Point{1, 2}, orb.Point{3, 4}
	var got []orb.Point
	for _, p := range []orb.Point{a, a, b, b, a} {
		got = appendNew(got, p)
	}
	if len(got) != 3 || got[0] != a || got[1] != b || got[2] != a {
		t.Error(got)
	}
}
