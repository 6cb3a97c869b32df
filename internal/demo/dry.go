package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// drySite is a stand away from the water.
type drySite struct {
	size  int
	row   bool // along a road, not around a garden
	story story
}

// drySites go with the names in places.
var drySites = []drySite{
	{9, false, gardenPlants},
	{11, true, leftAlone},
	{7, true, leftAlone},
	{5, false, secondWork},
	{6, true, thirdWork},
	{1, false, pulledAgain},
	{1, false, leftAlone},
}

// dryLand places stands at gardens and along roads, 450 m or more from any stream. The far end of a row
// is at least 150 m away.
func (s *settlement) dryLand() {
	for i, site := range drySites {
		col := colony{walk: places[i], place: places[i], parcel: parcel(s.r)}
		for col.patches = s.dryPatches(site); !s.clear(col.patches); {
			col.patches = s.dryPatches(site)
		}
		s.add(col, site.story)
	}
}

// dryPatches draws the patches of a site, each near the previous one.
func (s *settlement) dryPatches(site drySite) []patch {
	var out []patch
	at := drySpot(s.r, s.land)
	heading := 2 * math.Pi * s.r.Float64()
	for range site.size {
		out = append(out, newPatch(s.r, at))
		if !site.row {
			heading = 2 * math.Pi * s.r.Float64()
		}
		at = ahead(at, heading+0.1*s.r.NormFloat64(), 12+8*s.r.Float64())
	}
	return out
}

// drySpot draws a place within 8 km of the middle, which is well inland, with no stream within 450 m.
func drySpot(r *rand.Rand, land country) orb.Point {
	for {
		p := ahead(orb.Point{}, 2*math.Pi*r.Float64(), 8000*math.Sqrt(r.Float64()))
		wet := false
		for _, c := range land.courses {
			wet = wet || crowded(c.path, p, 450)
		}
		if !wet {
			return p
		}
	}
}
