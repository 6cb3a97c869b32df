package lineage

import (
	"cmp"
	"maps"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
)

// Common is ground that lies in more than one stand, and so counts more than once in their acres.
type Common struct {
	Stands  int              // how many have ground in common with another
	Twice   geo.SquareMeters // acres of all these stands, less the ground they cover
	Largest [2]int32         // the two with most ground in common, the first by number of those with as much
	Shared  geo.SquareMeters // by these two
}

// leastCommon is the least ground that two stands have in common. Our choice: less may be the rounding
// to seven decimals, a centimetre, of a common border of a hundred metres.
const leastCommon geo.SquareMeters = 1

// common is ground shared by two stands, first < second.
type common struct {
	first, second int32
	shared        geo.SquareMeters
}

// CommonGround finds the ground common to n stands, of which at returns one: patches wider than the join
// distance, or lone plants that are too few for a stand together.
func CommonGround(n int, at func(i int32) *stand.Stand, workers int) Common {
	pairs := commonPairs(n, at, workers)
	if len(pairs) == 0 {
		return Common{}
	}
	sets := disjoint.NewSets(n)
	for _, p := range pairs {
		sets.Union(p.first, p.second)
	}
	groups := map[int32][]common{}
	for _, p := range pairs {
		root := sets.Find(p.first)
		groups[root] = append(groups[root], p)
	}
	roots := slices.Sorted(maps.Keys(groups))
	members, twice := make([][]int32, len(roots)), make([]geo.SquareMeters, len(roots))
	inSpans(len(roots), workers, func(k int) {
		own := groups[roots[k]]
		if members[k] = membersOf(own); len(own) == 1 {
			twice[k] = own[0].shared // most have ground in common with one other
		} else {
			twice[k] = countedTwice(at, members[k])
		}
	})
	var out Common
	for k := range roots {
		out.Stands += len(members[k])
		out.Twice += twice[k]
	}
	most := slices.MaxFunc(pairs, func(a, b common) int {
		return cmp.Or(cmp.Compare(a.shared, b.shared), cmp.Compare(b.first, a.first), cmp.Compare(b.second, a.second))
	})
	out.Largest, out.Shared = [2]int32{most.first, most.second}, most.shared
	return out
}

// commonPairs returns the pairs of stands that have ground in common.
func commonPairs(n int, at func(i int32) *stand.Stand, workers int) []common {
	var index boxes
	for i := range int32(n) {
		if box, ok := boxOf(at(i).Footprint); ok {
			index.add(box, i)
		}
	}
	found := make([][]common, n)
	inSpans(n, workers, func(i int) {
		own := at(int32(i))
		box, ok := boxOf(own.Footprint)
		if !ok {
			return
		}
		frame := earth.NewFrame(own.Center)
		var mine orb.MultiPolygon
		for _, k := range index.touching(box) {
			if int(k) <= i {
				continue
			}
			if mine == nil {
				mine = frame.Project(own.Footprint.Polygons())
			}
			theirs := frame.Project(at(k).Footprint.Polygons())
			if shared := shape.IntersectionArea(mine, theirs); shared >= leastCommon {
				found[i] = append(found[i], common{int32(i), k, shared})
			}
		}
	})
	return slices.Concat(found...)
}

// membersOf returns the stands of pairs, ascending.
func membersOf(pairs []common) []int32 {
	var out []int32
	for _, p := range pairs {
		out = append(out, p.first, p.second)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// countedTwice returns the acres of stands together, less those of the ground they cover.
func countedTwice(at func(i int32) *stand.Stand, members []int32) geo.SquareMeters {
	frame := earth.NewFrame(at(members[0]).Center)
	var sum geo.SquareMeters
	parts := make([]orb.MultiPolygon, len(members))
	for n, i := range members {
		plot := plotIn(frame, at(i).Footprint.Polygons())
		sum += plot.size
		parts[n], _ = shape.MakeValid(plot.areas)
	}
	return max(0, sum-geo.PolygonArea(shape.Union(parts, 1)))
}
