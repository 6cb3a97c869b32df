package linear

import (
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// Index finds places on many lines near a point. It is read-only after NewIndex and safe for
// concurrent use. It keeps the given lines, not copies.
type Index struct {
	lines Lines
	tree  rtree.RTreeG[Run]
	space func() *space // made on first use: few places are far from all lines
}

// NewIndex returns an index of lines, in degrees. A line without vertices, or with a vertex that is
// not a number, is never found. Memory is about 12 bytes a vertex; n log n, about 0.2 us a vertex.
func NewIndex(lines []orb.LineString) *Index { return NewIndexOf(LinesOf(lines)) }

// NewIndexOf is NewIndex of lines that may be packed.
func NewIndexOf(lines Lines) *Index {
	ix := &Index{lines: lines, space: sync.OnceValue(func() *space { return newSpace(lines) })}
	boxes := sortedBoxes(lines) // neighbours make a tree of compact boxes, and a faster one
	for i := range boxes {
		ix.tree.Insert(boxes[i].min, boxes[i].max, boxes[i].run)
	}
	return ix
}

// Near returns the runs that may come within half of the centre: all whose box meets the square of
// that half width around it, sorted by line and vertex. Runs of a line that touch are merged.
// Nothing within half is missed. Some microseconds.
func (ix *Index) Near(center orb.Point, half geo.Meters) []Run {
	return ix.AppendNear(nil, center, half)
}

// AppendNear appends what Near returns to runs and returns that.
func (ix *Index) AppendNear(runs []Run, center orb.Point, half geo.Meters) []Run {
	low, high := square(center, half)
	return ix.appendWithin(runs, low, high)
}

// square returns a box in degrees that contains everything within half of a centre.
func square(center orb.Point, half geo.Meters) (low, high [2]float64) {
	// a degree of latitude is shortest at the equator
	_, perLat := earth.LocalScale(0)
	dLat := float64(half) / perLat
	low[1], high[1] = center[1]-dLat, center[1]+dLat
	dLon := 180.0
	// meridians converge poleward; past 89.9 degrees every longitude is near
	if poleward := max(math.Abs(low[1]), math.Abs(high[1])); poleward < 89.9 {
		perLon, _ := earth.LocalScale(poleward)
		dLon = min(180, float64(half)/perLon)
	}
	lon := earth.Wrap(center[0])
	low[0], high[0] = lon-dLon, lon+dLon
	return low, high
}

// appendWithin appends the runs whose box meets the given box, which is at most 360 degrees wide.
func (ix *Index) appendWithin(runs []Run, low, high [2]float64) []Run {
	start := len(runs)
	ix.eachWithin(low, high, func(r Run) { runs = append(runs, r) })
	found := runs[start:]
	slices.SortFunc(found, compareRuns)
	return runs[:start+merge(found)]
}

// eachWithin calls visit with the runs whose box meets a box that is at most a
// turn wide; near the antimeridian with some of them twice.
func (ix *Index) eachWithin(low, high [2]float64, visit func(Run)) {
	each := func(_, _ [2]float64, r Run) bool {
		visit(r)
		return true
	}
	ix.tree.Search(low, high, each)
	for _, turn := range [2]float64{-360, 360} {
		if high[0]+turn >= -180 && low[0]+turn < 180 {
			ix.tree.Search([2]float64{low[0] + turn, low[1]}, [2]float64{high[0] + turn, high[1]}, each)
		}
	}
}

// merge makes sorted runs that touch one, in place, and returns how many remain.
func merge(runs []Run) int {
	kept := 0
	for _, r := range runs {
		if kept > 0 && runs[kept-1].Line == r.Line && runs[kept-1].Last >= r.First {
			runs[kept-1].Last = max(runs[kept-1].Last, r.Last)
			continue
		}
		runs[kept] = r
		kept++
	}
	return kept
}
