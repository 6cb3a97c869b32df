package linear

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// runSegments is the number of segments of a line in one box of the index. Our choice, measured:
// fewer make the tree larger, more make the boxes looser.
const runSegments = 8

// Run is a stretch of consecutive vertices of a line, First and Last included.
type Run struct{ Line, First, Last int32 }

// Index finds places on many lines near a point. It is read-only after NewIndex and safe for
// concurrent use. It keeps the given lines, not copies.
type Index struct {
	lines []orb.LineString
	tree  rtree.RTreeG[Run]
	space func() *space // made on first use: few places are far from all lines
}

// NewIndex returns an index of lines, in degrees. A line without vertices, or with a vertex that is
// not a number, is never found. Memory is about 12 bytes a vertex; n log n, about 0.2 us a vertex.
func NewIndex(lines []orb.LineString) *Index {
	ix := &Index{lines: lines, space: sync.OnceValue(func() *space { return newSpace(lines) })}
	boxes := make([]boxed, 0, boxCount(lines))
	for i, path := range lines {
		boxes = appendBoxes(boxes, int32(i), path)
	}
	// sorted neighbours make a tree of compact boxes, and a faster one
	sortBoxes(boxes)
	for i := range boxes {
		ix.tree.Insert(boxes[i].min, boxes[i].max, boxes[i].run)
	}
	return ix
}

// sortBoxes sorts boxes along a curve over the globe, so that neighbours come together.
func sortBoxes(boxes []boxed) {
	slices.SortFunc(boxes, func(a, b boxed) int {
		return cmp.Or(cmp.Compare(a.curve, b.curve), compareRuns(a.run, b.run))
	})
}

// boxed is a run with its box in degrees. Its longitudes begin in [-180, 180) and may run past 180.
type boxed struct {
	curve    uint64
	min, max [2]float64
	run      Run
}

// boxCount returns how many runs the lines have.
func boxCount(lines []orb.LineString) int {
	n := 0
	for _, path := range lines {
		n += (len(path) + runSegments - 2) / runSegments
	}
	return n
}

// appendBoxes appends the runs of one line.
func appendBoxes(boxes []boxed, line int32, path orb.LineString) []boxed {
	for first := 0; first < len(path)-1 || first == 0 && len(path) == 1; first += runSegments {
		last := min(first+runSegments, len(path)-1)
		b := boxed{run: Run{line, int32(first), int32(last)}}
		if !b.enclose(path[first : last+1]) {
			continue
		}
		boxes = append(boxes, b)
		// a box across the antimeridian is found from both sides
		for _, turn := range [2]float64{-360, 360} {
			if b.max[0]+turn >= -180 && b.min[0]+turn < 180 {
				twin := b
				twin.min[0] += turn
				twin.max[0] += turn
				twin.curve = curve(twin.min, twin.max)
				boxes = append(boxes, twin)
			}
		}
	}
	return boxes
}

// enclose sets the box around vertices and reports whether all are numbers.
func (b *boxed) enclose(path orb.LineString) bool {
	lon := earth.Wrap(path[0][0])
	b.min, b.max = [2]float64{lon, path[0][1]}, [2]float64{lon, path[0][1]}
	sum := lon + path[0][1]
	for i := 1; i < len(path); i++ {
		lon += shorter(path[i][0] - path[i-1][0])
		b.min = [2]float64{min(b.min[0], lon), min(b.min[1], path[i][1])}
		b.max = [2]float64{max(b.max[0], lon), max(b.max[1], path[i][1])}
		sum += lon + path[i][1]
	}
	b.curve = curve(b.min, b.max)
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

// curve returns the place of a box's middle on a Z-order curve over the globe (Morton 1966).
func curve(low, high [2]float64) uint64 {
	const cellsPerDegree = 1 << 21
	x := uint64((low[0] + high[0] + 1080) / 2 * cellsPerDegree)
	y := uint64((low[1] + high[1] + 360) / 2 * cellsPerDegree)
	return spread(x) | spread(y)<<1
}

// spread puts a zero bit after each of the lowest 32 bits of x.
func spread(x uint64) uint64 {
	x &= 0xffffffff
	x = (x | x<<16) & 0x0000ffff0000ffff
	x = (x | x<<8) & 0x00ff00ff00ff00ff
	x = (x | x<<4) & 0x0f0f0f0f0f0f0f0f
	x = (x | x<<2) & 0x3333333333333333
	x = (x | x<<1) & 0x5555555555555555
	return x
}

// compareRuns orders runs by line, then by vertex.
func compareRuns(a, b Run) int {
	return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.First, b.First), cmp.Compare(a.Last, b.Last))
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
