package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// givenBack returns faces with the vertices of r in place of what they were rounded to,
// so that sides shared with a neighbour stay shared.
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

// grainOf returns a share of the size of r that no one can tell, as a power of two so
// that multiples of it are exact. Our choice: about 1e-11, but eight units in the last
// place of its coordinates at least.
func grainOf(r orb.Ring) float64 {
	box := r.Bound()
	size := max(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])
	far := max(math.Abs(box.Min[0]), math.Abs(box.Min[1]), math.Abs(box.Max[0]), math.Abs(box.Max[1]))
	return math.Exp2(math.Ceil(math.Log2(max(1e-11*size, 8*0x1p-52*far))))
}

// noded returns the edges of closed ring r cut so that they meet at their ends alone,
// without those that cancel. Places are multiples of grain, and what is nearer than
// that is one: many edges through one place, each cut on its own, otherwise part by
// rounding.
func noded(r orb.Ring, grain float64) []border {
	coarse := make(orb.Ring, len(r))
	for i, p := range r {
		coarse[i] = rounded(p, grain)
	}
	return nodedOn(evenOddEdges(appendBorders(nil, coarse, true, 0)), grain)
}

// nodedOn is noded for edges whose ends are multiples of grain.
func nodedOn(all []border, grain float64) []border {
	for range 8 { // a cut moves what it cuts by rounding, so that a new one may be due
		before := len(all)
		if all = evenOddEdges(split(all, grain)); len(all) == before {
			break
		}
	}
	return all
}

// evenOddEdges returns one of each edge that is there an odd number of times, whichever way,
// in order.
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
