package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/disjoint"
)

// gridClear is the least distance, in steps, of sides on a grid that are written and read back as
// decimals: far above the 1e-7 of a step by which that moves them. Our choice.
const gridClear = 1e-4

// OnGrid returns mp with all coordinates whole multiples of 1/perUnit, each vertex moved by at most
// half a step. The result is valid in the sense of Valid, also once written as decimals. Where
// rounding makes sides cross, they are cut there, on the grid, and the places run around an odd
// number of times are kept; near them, ground and gaps one step wide may close or open. Rings that
// lose their area are dropped. mp must be valid. Near linear.
func OnGrid(mp orb.MultiPolygon, perUnit float64) orb.MultiPolygon {
	return offGrid(normalize(gridded(onSteps(mp, perUnit))), perUnit)
}

// OnGridOfArea is OnGrid with the rounded result brought back to a given area. measured is the area
// of mp before rounding in the same unit as area; any unit will do, since only their ratio counts.
// As many vertices as necessary move by up to one more step. The remaining difference is less than
// two or three such moves make. Holes count.
func OnGridOfArea(mp orb.MultiPolygon, perUnit, area, measured float64) orb.MultiPolygon {
	exact, rounded := mp, onSteps(mp, perUnit)
	fixed, clear := crammed(rounded) // sides that a move may bring too near each other
	if !clear {
		exact, rounded = nil, unclear(rounded)
		fixed, _ = crammed(rounded)
	}
	own := float64(Area(mp)) * perUnit * perUnit
	left := float64(Area(rounded))
	if !(own > 0 && left > 0 && measured > 0) {
		return offGrid(normalize(rounded), perUnit)
	}
	wanted := own*area/measured - left
	if exact != nil {
		adjustArea(rounded, exact, perUnit, fixed, wanted)
		return offGrid(normalize(rounded), perUnit)
	}
	moved := rounded.Clone()
	adjustArea(moved, nil, perUnit, fixed, wanted)
	if validOnGrid(moved) {
		return offGrid(normalize(moved), perUnit)
	}
	return offGrid(normalize(rounded), perUnit)
}

// validOnGrid says whether polygons on a grid are valid.
func validOnGrid(mp orb.MultiPolygon) bool {
	if isClear(mp, gridClear) {
		return true
	}
	tangled, _ := untangled(mp) // the others are clear
	return onlyTouch(tangled, gridClear) || Valid(tangled) == nil
}

func onSteps(mp orb.MultiPolygon, perUnit float64) orb.MultiPolygon {
	out := mp.Clone()
	for _, p := range out {
		for _, r := range p {
			for i := range r {
				r[i][0], r[i][1] = math.Round(r[i][0]*perUnit), math.Round(r[i][1]*perUnit)
			}
		}
	}
	return out
}

func offGrid(mp orb.MultiPolygon, perUnit float64) orb.MultiPolygon {
	for _, p := range mp {
		for _, r := range p {
			for i := range r {
				r[i][0], r[i][1] = r[i][0]/perUnit, r[i][1]/perUnit
			}
		}
	}
	return mp
}

// gridded makes rings on a grid valid.
func gridded(mp orb.MultiPolygon) orb.MultiPolygon {
	if isClear(mp, gridClear) {
		return mp
	}
	return unclear(mp)
}

// unclear is gridded for rings known not to be clear.
func unclear(mp orb.MultiPolygon) orb.MultiPolygon {
	var kept orb.MultiPolygon
	for _, p := range mp {
		if rings := despiked(p); rings != nil {
			kept = append(kept, rings)
		}
	}
	tangled, apart := untangled(kept)
	if len(tangled) == 0 {
		return kept
	}
	return slices.Concat(apart, onGridAgain(tangled))
}

// despiked returns a polygon without the spikes of its rings; nil when nothing is left.
func despiked(p orb.Polygon) (rings orb.Polygon) {
	for i, r := range p {
		r = withoutSpikes(r)
		if r == nil && i == 0 {
			break
		}
		if r != nil {
			rings = append(rings, r)
		}
	}
	return rings
}

// untangled splits polygons on a grid into two lists: those that are tangled, and the rest.
func untangled(mp orb.MultiPolygon) (tangled, apart orb.MultiPolygon) {
	for i, is := range tangledOf(mp) {
		if is {
			tangled = append(tangled, mp[i])
		} else {
			apart = append(apart, mp[i])
		}
	}
	return tangled, apart
}

// tangledOf says of each polygon on a grid whether it has sides that touch or cross, or is so near one
// that has that mending may affect it.
func tangledOf(mp orb.MultiPolygon) []bool {
	of := polygonOfRing(mp)
	hang := disjoint.NewSets(len(mp))
	var touch []int32
	eachNear(mp, crammedWithin, func(s, t *side) bool {
		hang.Union(of[s.ring], of[t.ring])
		if s == t || !apartBy(s, t, gridClear) {
			touch = append(touch, of[s.ring])
		}
		return true
	})
	touched := make([]bool, len(mp))
	for _, i := range touch {
		touched[hang.Find(i)] = true
	}
	is := make([]bool, len(mp))
	for i := range is {
		is[i] = touched[hang.Find(int32(i))]
	}
	return is
}

// polygonOfRing returns, by ring in their order, the index of its polygon.
func polygonOfRing(mp orb.MultiPolygon) []int32 {
	var of []int32
	for i, p := range mp {
		for range p {
			of = append(of, int32(i))
		}
	}
	return of
}

// onGridAgain makes valid the polygons on a grid whose sides touch or cross.
func onGridAgain(mp orb.MultiPolygon) orb.MultiPolygon {
	var all []border
	for _, p := range mp {
		for _, r := range p {
			all = appendBorders(all, r, true, 0)
		}
	}
	if faces, ok := facesOf(nodedOn(evenOddEdges(all), 1)); ok {
		if onlyTouch(faces, gridClear) {
			return normalize(faces)
		}
		if faces, ok = validNormal(faces); ok {
			return faces
		}
	}
	valid, _ := MakeValid(mp)
	return valid
}

// withoutSpikes returns r without repeated vertices and without spikes, where it turns back on
// itself; nil when nothing is left.
func withoutSpikes(r orb.Ring) orb.Ring {
	out := make(orb.Ring, 0, len(r))
	add := func(p orb.Point) {
		for {
			n := len(out)
			switch {
			case n > 0 && out[n-1] == p:
				return
			case n > 1 && folds(out[n-2], out[n-1], p):
				out = out[:n-1]
				continue
			}
			out = append(out, p)
			return
		}
	}
	for _, p := range r[:len(r)-1] {
		add(p)
	}
	for len(out) > 2 {
		n := len(out)
		switch {
		case out[0] == out[n-1], folds(out[n-2], out[n-1], out[0]):
			out = out[:n-1]
		case folds(out[n-1], out[0], out[1]):
			out = out[1:]
		default:
			return append(out, out[0])
		}
	}
	return nil
}

// folds reports whether the path a, b, c, on a grid, turns back on itself.
func folds(a, b, c orb.Point) bool {
	return cross(a, b, c) == 0 && (b[0]-a[0])*(c[0]-b[0])+(b[1]-a[1])*(c[1]-b[1]) < 0
}
