package shape

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"
)

// halfEdges is a set of noded edges, each as two half-edges, sorted around every corner (Muller and
// Preparata, Theoretical Computer Science 7, 217-236, 1978).
type halfEdges struct {
	all    []border
	half   []halfEdge // by corner, then counter-clockwise
	first  []int32    // by corner: its first half-edge; and the end
	corner []int32    // by half-edge
	end    [][2]int32
	inside []bool // by half-edge: whether the sector counter-clockwise after it is inside by the even-odd rule
}

func newHalfEdges(all []border) *halfEdges {
	h := &halfEdges{all: all, half: halfEdgesOf(all), end: make([][2]int32, len(all))}
	h.corner, h.inside = make([]int32, len(h.half)), make([]bool, len(h.half))
	for k, s := range h.half {
		if k == 0 || s.corner != h.half[k-1].corner {
			h.first = append(h.first, int32(k))
		}
		h.corner[k] = int32(len(h.first) - 1)
		if s.leaves {
			h.end[s.border][0] = int32(k)
		} else {
			h.end[s.border][1] = int32(k)
		}
	}
	h.first = append(h.first, int32(len(h.half)))
	return h
}

// turn directs every edge so that the inside is on its left. Inside and outside alternate from
// sector to sector around a corner, and from one end of an edge to the other. So each connected
// part needs only one test, from the outside. False when a corner has an odd number of edges.
func (h *halfEdges) turn() bool {
	seen := make([]bool, len(h.first)-1)
	var open []int32
	var outside *rays
	for c := range seen {
		if seen[c] {
			continue
		}
		// the first corner of a connected part has no edge to the west
		west := false
		if c > 0 {
			if outside == nil {
				outside = newRays(h.all)
			}
			west = outside.inside(h.half[h.first[c]].corner)
		}
		h.alternate(h.first[c+1]-1, west)
		seen[c] = true
		for open = append(open[:0], int32(c)); len(open) > 0; {
			c := open[len(open)-1]
			open = open[:len(open)-1]
			if (h.first[c+1]-h.first[c])%2 != 0 {
				return false
			}
			for k := h.first[c]; k < h.first[c+1]; k++ {
				far := h.otherEnd(k)
				if next := h.corner[far]; !seen[next] {
					seen[next] = true
					h.alternate(far, !h.inside[k])
					open = append(open, next)
				}
			}
		}
	}
	for i, ends := range h.end {
		if b := &h.all[i]; !h.inside[ends[0]] {
			b.from, b.to = b.to, b.from
			h.end[i] = [2]int32{ends[1], ends[0]}
		}
	}
	return true
}

// otherEnd returns the half-edge at the other end of half-edge k's edge.
func (h *halfEdges) otherEnd(k int32) int32 {
	ends := h.end[h.half[k].border]
	return ends[0] + ends[1] - k
}

// alternate fills in inside around the corner of half-edge k; is says whether the sector after it
// is inside.
func (h *halfEdges) alternate(k int32, is bool) {
	from, to := h.first[h.corner[k]], h.first[h.corner[k]+1]
	for range to - from {
		h.inside[k] = is
		is = !is
		if k++; k == to {
			k = from
		}
	}
}

// loop follows the outline that contains edge i, with the same face on the left throughout: at each
// corner it takes the next edge clockwise.
func (h *halfEdges) loop(i int32, used []bool) []orb.Point {
	var way []orb.Point
	for !used[i] {
		used[i] = true
		way = append(way, h.all[i].from)
		k := h.end[i][1]
		c := h.corner[k]
		if k == h.first[c] {
			k = h.first[c+1]
		}
		i = h.half[k-1].border
	}
	return way
}

// rays tests whether a corner is inside by the even-odd rule, ignoring the corner's own edges.
type rays struct {
	all  []border
	tree *rtree.RTreeGN[float64, int32]
}

func newRays(all []border) *rays { return &rays{all, byBox(all)} }

// inside counts the edges that a ray to the west crosses.
func (r *rays) inside(p orb.Point) bool {
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
