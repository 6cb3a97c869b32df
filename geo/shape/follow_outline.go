package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// joinDistance is the largest distance between the end of an arc and the start of the next where
// several circles meet in one place, metres. Our choice: ten arcs that are too short to keep.
const joinDistance = 10 * shortestArc

// route gives for every arc the arc that continues the outline.
type route struct {
	next []int32
	// doubtful means that some arcs were joined only by position, as where several circles or sides
	// meet, so that the outline may touch itself.
	doubtful bool
}

// follow finds the route of the outline; false when it does not pass every arc once: the arcs do
// not close.
func follow(arcs []arc, circles int) (route, bool) {
	next := make([]int32, len(arcs))
	used := make([]bool, len(arcs))
	first := firstArcs(arcs, circles)
	var open []int
	for k, a := range arcs {
		if a.to == wholeCircle {
			next[k], used[k] = int32(k), true
			continue
		}
		next[k] = -1
		if a.to < 0 {
			open = append(open, k)
			continue
		}
		for n := first[a.to]; n < first[a.to+1]; n++ {
			if arcs[n].from == a.circle {
				next[k], used[n] = n, true
			}
		}
		if next[k] < 0 {
			open = append(open, k)
		}
	}
	return route{next, len(open) > 0}, joinOpen(arcs, next, used, open)
}

// firstArcs returns where each circle's arcs begin in arcs, and the end.
func firstArcs(arcs []arc, circles int) []int32 {
	first := make([]int32, circles+1)
	for _, a := range arcs {
		first[a.circle+1]++
	}
	for i := range circles {
		first[i+1] += first[i]
	}
	return first
}

// joinOpen joins each arc without a successor to the nearest unused start. It reports whether all
// could be joined.
func joinOpen(arcs []arc, next []int32, used []bool, open []int) bool {
	if len(open) == 0 {
		return true
	}
	var starts []int32
	for n, u := range used {
		if !u {
			starts = append(starts, int32(n))
		}
	}
	if len(starts) != len(open) {
		return false
	}
	for _, k := range open {
		best, distance := -1, joinDistance
		for s, n := range starts {
			if n < 0 {
				continue
			}
			if d := apart(arcs[k].last, arcs[n].first); d < distance {
				best, distance = s, d
			}
		}
		if best < 0 {
			return false
		}
		next[k], starts[best] = starts[best], -1
	}
	return true
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
