package flow

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/disjoint"
)

// kept reports whether the line at a rank takes part in the network.
func (b *builder) kept(r int32) bool { return !math.IsNaN(b.length[r]) }

// collectEnds numbers the distinct end positions of the lines, in canonical
// order of first use. Linear.
func (b *builder) collectEnds() {
	b.ends = make([]int32, 2*b.lines.Len())
	index := newBuckets(2 * b.lines.Len())
	for r := range b.length {
		path := b.line(int32(r)).Path
		if !b.kept(int32(r)) || len(path) == 0 {
			b.ends[2*r], b.ends[2*r+1] = -1, -1
			continue
		}
		b.ends[2*r] = b.pointAt(normal(path[0]), index)
		b.ends[2*r+1] = b.pointAt(normal(path[len(path)-1]), index)
	}
	b.places = disjoint.NewSets(len(b.points))
}

// pointAt returns the number of an end position, a new one when it is new.
func (b *builder) pointAt(p orb.Point, index *buckets) int32 {
	k := math.Float64bits(p[0])*31 ^ math.Float64bits(p[1])
	for i := index.first(k); i >= 0; i = index.after(i) {
		if b.points[i] == p {
			return i
		}
	}
	b.points = append(b.points, p)
	index.put(k, int32(len(b.points)-1))
	return int32(len(b.points) - 1)
}

// snapEnds joins the end positions within the snap distance of one another. Linear unless many
// different ends crowd within a few snap distances.
func (b *builder) snapEnds() {
	snap := float64(b.options.Snap)
	if snap <= 0 {
		return
	}
	// cells of 8 snap distances: most ends then need one look-up, and still few
	// share a cell; our choice, measured
	const cellPerSnap = 8
	grid, index := newCells(cellPerSnap*snap), newBuckets(len(b.points))
	for i, p := range b.points {
		around := box{p[0], p[1], p[0], p[1]}.grown(snap)
		grid.eachCell(around, func(k uint64) bool {
			for j := index.first(k); j >= 0; j = index.after(j) {
				if q := b.points[j]; math.Abs(q[1]-p[1]) <= around.north-p[1] && separation(p, q) <= snap {
					b.places.Union(int32(i), j)
				}
			}
			return true
		})
		index.put(grid.cellOf(p), int32(i))
	}
}

// reportGaps reports every place that joins more than one position.
func (b *builder) reportGaps() {
	if b.allNamed() {
		return
	}
	var widest map[int32]float64
	for i, p := range b.points {
		root := b.places.Find(int32(i))
		if root == int32(i) {
			continue
		}
		if widest == nil {
			widest = map[int32]float64{}
		}
		widest[root] = max(widest[root], separation(b.points[root], p))
	}
	if widest == nil {
		return
	}
	at := map[int32][]int32{}
	for e, p := range b.ends {
		if p < 0 || b.named[e/2] {
			continue
		}
		if root := b.places.Find(p); widest[root] > 0 {
			if l := at[root]; len(l) == 0 || l[len(l)-1] != int32(e/2) {
				at[root] = append(l, int32(e/2))
			}
		}
	}
	for root := range b.points {
		if lines := at[int32(root)]; len(lines) > 0 {
			b.report(Trouble{
				Kind: GapClosed, Lines: lines, At: b.points[root],
				Message: fmt.Sprintf("%d lines end up to %.2f m apart", len(lines), widest[int32(root)]),
				Repair:  "joined as one place; lengths are unchanged",
			})
		}
	}
}
