package intake

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestZonesOfPositions: two places on both sides of 120 degrees west, as PROJ 9 (pyproj) puts them into
// the zones 10 and 11: the one of the other zone is rejected, and no longer put 520 km away.
func TestZonesOfPositions(t *testing.T) {
	const west, east = "761533.547,4265556.505", "238466.453,4265556.505" // -120.001 and -119.999, both 38.5
	for _, c := range []struct{ header, west, east, system, want string }{
		{"Zone", "10S", "11S", "EPSG:32611", "-119.999 38.500; a position-other-zone"},
		{"Zone", "10S", "11S", "EPSG:26910", "-120.001 38.500; b position-other-zone"},
		{"utm_zone", "10", "11", "EPSG:32610", "-120.001 38.500; b position-other-zone"},
		{"Huso", "UTM 10 S", "Zone 11S", "EPSG:32611", "-119.999 38.500; a position-other-zone"},
		{"zone", "B", "riparian", "EPSG:32611", "-114.001 38.500 -119.999 38.500"},
		{"zone", "", "99", "EPSG:32611", "-114.001 38.500 -119.999 38.500"},
		{"site", "10S", "11S", "EPSG:32611", "-114.001 38.500 -119.999 38.500"},
	} {
		o := testOptions()
		o.CRS = c.system
		text := fmt.Sprintf("occurrenceID,easting,northing,%s,eventDate\na,%s,%s,2026-07-02\nb,%s,%s,2026-07-02\n", c.header, west, c.west, east, c.east)
		records, findings, _ := readPoints(t, text, o)
		var got []string
		for _, r := range records {
			got = append(got, fmt.Sprintf("%.3f %.3f", r.Position[0], r.Position[1]))
		}
		said := strings.Join(got, " ")
		for _, f := range findings {
			if f.Rule.Code == "position-other-zone" {
				said += "; " + f.Record + " " + f.Rule.Code
			}
		}
		if said != c.want {
			t.Errorf("%s in %s: %s, want %s", c.header, c.system, said, c.want)
		}
		for i, r := range records {
			if math.Abs(r.Position[1]-38.5) > 2e-3 {
				t.Errorf("%d: %v", i, r.Position)
			}
		}
	}
}
