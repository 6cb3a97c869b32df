package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// givenBack returns faces with the original vertices of r in place of the rounded ones, so that
// sides shared with a neighbour stay shared.
func givenBack(faces orb.MultiPolygon, r orb.Ring, grain float64) orb.MultiPolygon {
	given := make(map[orb.Point]orb.Point, len(r))
	for _, p := range r {
		coarse := rounded(p, grain)
		if other, two := given[coarse]; !two || geo.ComparePoints(p, other) < 0 {
			given[coarse] = p
		}
	}
	out := faces.Clone()
	for _, polygon := range out {
		for _, ring := range polygon {
			for k, p := range ring {
				if exact, is := given[p]; is {
					ring[k] = exact
				}
			}
		}
	}
	return out
}

// grainOf returns a negligible share of the size of r, as a power of two, so that multiples of it
// are exact. Our choice: about 1e-11, but at least eight units in the last place of its
// coordinates.
func grainOf(r orb.Ring) float64 {
	box := r.Bound()
	size := max(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])
	far := max(math.Abs(box.Min[0]), math.Abs(box.Min[1]), math.Abs(box.Max[0]), math.Abs(box.Max[1]))
	return math.Exp2(math.Ceil(math.Log2(max(1e-11*size, 8*0x1p-52*far))))
}

// noded returns the edges of closed ring r, cut so that they meet only at their ends, without edges
// that cancel each other. Places are multiples of grain, and places nearer than that become one.
// Otherwise many edges through one place, each cut separately, would come apart through rounding.
func noded(r orb.Ring, grain float64) []border {
	coarse := make(orb.Ring, len(r))
	for i, p := range r {
		coarse[i] = rounded(p, grain)
	}
	return nodedOn(evenOddEdges(appendBorders(nil, coarse, true, 0)), grain)
}

// nodedOn is noded for edges whose ends are multiples of grain.
func nodedOn(all []border, grain float64) []border {
	for range 8 { // a cut edge moves a little through rounding, and may then need another cut
		before := len(all)
		if all = evenOddEdges(split(all, grain)); len(all) == before {
			break
		}
	}
	return all
}

// evenOddEdges returns one of each edge that occurs an odd number of times, in either direction, in
// order.
func evenOddEdges(all []border) []border {
	for i, b := range all {
		if geo.ComparePoints(b.from, b.to) > 0 {
			all[i].from, all[i].to = b.to, b.from
		}
	}
	slices.SortFunc(all, compareBorders)
	kept := all[:0]
	for _, b := range all {
		if n := len(kept); n > 0 && kept[n-1] == b {
			kept = kept[:n-1]
		} else {
			kept = append(kept, b)
		}
	}
	return kept
}
