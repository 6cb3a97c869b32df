package shape

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"
)

// wheel is noded edges with their ends in order about every corner.
type wheel struct {
	all    []border
	spokes []spoke // by corner, then counter-clockwise
	first  []int32 // by corner: its first spoke; and the end
	corner []int32 // by spoke
	end    [][2]int32
	odd    []bool // by spoke: whether the sector counter-clockwise after it is an odd place
}

func newWheel(all []border) *wheel {
	w := &wheel{all: all, spokes: spokesOf(all), end: make([][2]int32, len(all))}
	w.corner, w.odd = make([]int32, len(w.spokes)), make([]bool, len(w.spokes))
	for k, s := range w.spokes {
		if k == 0 || s.corner != w.spokes[k-1].corner {
			w.first = append(w.first, int32(k))
		}
		w.corner[k] = int32(len(w.first) - 1)
		if s.leaves {
			w.end[s.border][0] = int32(k)
		} else {
			w.end[s.border][1] = int32(k)
		}
	}
	w.first = append(w.first, int32(len(w.spokes)))
	return w
}

// turn turns every edge so that the odd place is on its left. From sector to sector
// about a corner, and from one end of an edge to the other, odd and even alternate;
// what hangs together needs one look from outside. False when a corner has an odd
// number of edges.
func (w *wheel) turn() bool {
	seen := make([]bool, len(w.first)-1)
	var open []int32
	var outside *rays
	for c := range seen {
		if seen[c] {
			continue
		}
		// the smallest corner of what hangs together has no edge to the west
		west := false
		if c > 0 {
			if outside == nil {
				outside = newRays(w.all)
			}
			west = outside.odd(w.spokes[w.first[c]].corner)
		}
		w.alternate(w.first[c+1]-1, west)
		seen[c] = true
		for open = append(open[:0], int32(c)); len(open) > 0; {
			c := open[len(open)-1]
			open = open[:len(open)-1]
			if (w.first[c+1]-w.first[c])%2 != 0 {
				return false
			}
			for k := w.first[c]; k < w.first[c+1]; k++ {
				far := w.otherEnd(k)
				if next := w.corner[far]; !seen[next] {
					seen[next] = true
					w.alternate(far, !w.odd[k])
					open = append(open, next)
				}
			}
		}
	}
	for i, ends := range w.end {
		if b := &w.all[i]; !w.odd[ends[0]] {
			b.from, b.to = b.to, b.from
			w.end[i] = [2]int32{ends[1], ends[0]}
		}
	}
	return true
}

// otherEnd returns the spoke at the other end of spoke k's edge.
func (w *wheel) otherEnd(k int32) int32 {
	ends := w.end[w.spokes[k].border]
	return ends[0] + ends[1] - k
}

// alternate fills odd for the corner of spoke k, after which it is as given.
func (w *wheel) alternate(k int32, is bool) {
	from, to := w.first[w.corner[k]], w.first[w.corner[k]+1]
	for range to - from {
		w.odd[k] = is
		is = !is
		if k++; k == to {
			k = from
		}
	}
}

// loop follows the outline that edge i is on, with the same face on the left all
// along: where it arrives it takes the next edge clockwise.
func (w *wheel) loop(i int32, used []bool) []orb.Point {
	var way []orb.Point
	for !used[i] {
		used[i] = true
		way = append(way, w.all[i].from)
		k := w.end[i][1]
		c := w.corner[k]
		if k == w.first[c] {
			k = w.first[c+1]
		}
		i = w.spokes[k-1].border
	}
	return way
}

// rays answers whether a corner lies in an odd place, without its own edges.
type rays struct {
	all  []border
	tree *rtree.RTreeGN[float64, int32]
}

func newRays(all []border) *rays { return &rays{all, byBox(all)} }

// odd counts the edges that a ray to the west crosses.
func (r *rays) odd(p orb.Point) bool {
	is := false
	r.tree.Search([2]float64{math.Inf(-1), p[1]}, p, func(_, _ [2]float64, i int32) bool {
		low, high := r.all[i].from, r.all[i].to
		if low[1] > high[1] {
			low, high = high, low
		}
		if low[1] <= p[1] && p[1] < high[1] && cross(low, high, p) < 0 {
			is = !is
		}
		return true
	})
	return is
}
