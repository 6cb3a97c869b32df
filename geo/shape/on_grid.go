package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/disjoint"
)

// gridClear is how far apart sides are on a grid, in its steps, that are written and
// read back as decimals: far above what that moves them by, 1e-7 of a step. Our choice.
const gridClear = 1e-4

// OnGrid returns mp with every vertex on a place whose coordinates are whole numbers
// of 1/perUnit, half a step away at most, valid in the sense of Valid also once
// written as decimals. Where rounding brings sides across each other they are cut
// there, on the grid, and the places run around an odd number of times are kept; beside
// them ground and gaps a step across may close or open. Rings that lose their area are
// dropped. MP must be valid but for that. Near linear.
func OnGrid(mp orb.MultiPolygon, perUnit float64) orb.MultiPolygon {
	return offGrid(normalize(gridded(onSteps(mp, perUnit))), perUnit)
}

// OnGridOfArea is OnGrid with the area of what was rounded brought back to area. Measured
// is the area that mp has as it is, in the same unit, which may be any: by it steps are
// told in that unit. Vertices are moved by up to one step more, as many as it takes, so
// that what is left is less than moving two or three more makes. Holes count.
func OnGridOfArea(mp orb.MultiPolygon, perUnit, area, measured float64) orb.MultiPolygon {
	exact, rounded := mp, onSteps(mp, perUnit)
	fixed, clear := crammed(rounded) // what a move may bring nearer each other
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
	if isClear(moved, gridClear) {
		return offGrid(normalize(moved), perUnit)
	}
	// what is not tangled is clear
	if tangled, _ := untangled(moved); Valid(tangled) == nil {
		return offGrid(normalize(moved), perUnit)
	}
	return offGrid(normalize(rounded), perUnit)
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

// unclear is gridded for rings that are known not to be clear.
func unclear(mp orb.MultiPolygon) orb.MultiPolygon {
	var kept orb.MultiPolygon
	for _, p := range mp {
		var rings orb.Polygon
		for i, r := range p {
			r = withoutSpikes(r)
			if r == nil && i == 0 {
				break
			}
			if r != nil {
				rings = append(rings, r)
			}
		}
		if rings != nil {
			kept = append(kept, rings)
		}
	}
	tangled, apart := untangled(kept)
	if len(tangled) == 0 {
		return kept
	}
	return slices.Concat(apart, onGridAgain(tangled))
}

// untangled splits polygons on a grid into those with sides that touch or cross, with
// whatever lies so near those that mending them may bring it in, and the rest.
func untangled(mp orb.MultiPolygon) (tangled, apart orb.MultiPolygon) {
	var of []int32 // by ring: its polygon
	for i, p := range mp {
		for range p {
			of = append(of, int32(i))
		}
	}
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
	for i, p := range mp {
		if touched[hang.Find(int32(i))] {
			tangled = append(tangled, p)
		} else {
			apart = append(apart, p)
		}
	}
	return tangled, apart
}

// onGridAgain makes polygons on a grid valid whose sides touch or cross.
func onGridAgain(mp orb.MultiPolygon) orb.MultiPolygon {
	var all []border
	for _, p := range mp {
		for _, r := range p {
			all = appendBorders(all, r, true, 0)
		}
	}
	if faces, ok := facesOf(nodedOn(evenOddEdges(all), 1)); ok {
		if faces, ok = validNormal(faces); ok {
			return faces
		}
	}
	valid, _ := MakeValid(mp)
	return valid
}

// withoutSpikes returns r without repeats and without tips where it turns back on
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

// folds reports whether the way from a over b to c turns back on itself, on a grid.
func folds(a, b, c orb.Point) bool {
	return cross(a, b, c) == 0 && (b[0]-a[0])*(c[0]-b[0])+(b[1]-a[1])*(c[1]-b[1]) < 0
}
