package linear

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// runSegments is the number of segments of a line in one box of the index. Our choice, measured:
// fewer make the tree larger, more make the boxes looser.
const runSegments = 8

// Run is a stretch of consecutive vertices of a line, First and Last included.
type Run struct{ Line, First, Last int32 }

// boxed is a run with its box in degrees. Its longitudes begin in [-180, 180) and may run past 180.
type boxed struct {
	curve    uint64
	min, max [2]float64
	run      Run
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

// boxCount returns how many runs the lines have.
func boxCount(lines Lines) int {
	n := 0
	for i := range lines.Len() {
		n += (lines.vertices(i) + runSegments - 2) / runSegments
	}
	return n
}

// sortedBoxes returns the boxes of the runs of lines along a curve over the globe.
func sortedBoxes(lines Lines) []boxed {
	boxes := make([]boxed, 0, boxCount(lines))
	for i, path := range lines.All() {
		boxes = appendBoxes(boxes, int32(i), path)
	}
	sortBoxes(boxes)
	return boxes
}

// sortBoxes sorts boxes along a curve over the globe, so that neighbours come together.
func sortBoxes(boxes []boxed) {
	slices.SortFunc(boxes, func(a, b boxed) int {
		return cmp.Or(cmp.Compare(a.curve, b.curve), compareRuns(a.run, b.run))
	})
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
