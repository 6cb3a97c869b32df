package shape

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// UnionDiscs returns the dissolved union of the discs.
func UnionDiscs(discs []Disc) orb.MultiPolygon {
	var parts []orb.MultiPolygon
	for _, d := range discs {
		if p := d.Polygon(); p != nil {
			parts = append(parts, orb.MultiPolygon{p})
		}
	}
	return Union(parts, 1)
}

// CloseDiscs returns the area of the closing of the union of the discs: gaps
// narrower than gap are filled. Never under the area of UnionDiscs.
func CloseDiscs(discs []Disc, gap geo.Meters) geo.SquareMeters {
	u := UnionDiscs(discs)
	return max(Area(u), Area(Closing(u, gap)))
}
