package shape

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// normalize changes mp to the normal form of the package and returns it.
func normalize(mp orb.MultiPolygon) orb.MultiPolygon {
	for _, p := range mp {
		for i, r := range p {
			normalizeRing(r, i == 0)
		}
		slices.SortFunc(p[1:], compareRings)
	}
	slices.SortFunc(mp, func(a, b orb.Polygon) int { return compareRings(a[0], b[0]) })
	return mp
}

// normalizeRing changes the closed ring r in place: it starts at its smallest vertex and runs
// counter-clockwise or clockwise as asked.
func normalizeRing(r orb.Ring, counterClockwise bool) {
	open := r[:len(r)-1]
	if (signedArea(r) > 0) != counterClockwise {
		slices.Reverse(open)
	}
	least := 0
	for i, p := range open {
		if geo.ComparePoints(p, open[least]) < 0 {
			least = i
		}
	}
	rotate(open, least)
	r[len(r)-1] = r[0]
}

// rotate moves element k to the front by three reversals, without extra memory.
func rotate(s []orb.Point, k int) {
	if k == 0 {
		return
	}
	slices.Reverse(s[:k])
	slices.Reverse(s[k:])
	slices.Reverse(s)
}

func compareRings(a, b orb.Ring) int {
	if c := slices.CompareFunc(a, b, geo.ComparePoints); c != 0 {
		return c
	}
	return cmp.Compare(len(a), len(b))
}
