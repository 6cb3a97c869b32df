package survey

import (
	"testing"

	"github.com/paulmach/orb"
)

// TestOutlineOfACountry: an outline larger than any patch is rejected, and one
// over the antimeridian is as large as it is.
func TestOutlineOfACountry(t *testing.T) {
	for _, test := range []struct {
		name       string
		west, east float64
		north      float64
		want       int
	}{
		{"patch", 10, 10.01, 50.01, 1}, {"wide", 10, 40, 50.01, 0}, {"tall", 10, 10.01, 70, 0}, {"over the antimeridian", 179.99, -179.99, 50.01, 1},
	} {
		ring := orb.Ring{{test.west, 50}, {test.east, 50}, {test.east, test.north}, {test.west, 50}}
		kept, findings := Check([]Record{{ID: "a", Position: ring[0], Outline: orb.MultiPolygon{{ring}}, Detected: true}}, DefaultOptions(Quarter{Year: 2026, Number: 3}))
		if len(kept) != test.want {
			t.Errorf("%s: %d kept, %v", test.name, len(kept), findings)
		}
	}
}
