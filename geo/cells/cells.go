// Package cells covers areas of a plane with the squares of a grid, and gives the outline of such
// squares. The plane's unit is the side of a square: square (x, y) reaches from x to x+1 and from y
// to y+1.
package cells

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Cell is one square of the grid, named by its corner of smallest x and y.
type Cell struct{ X, Y int32 }

// At returns the square that contains a place. A place on an edge belongs to the square above and
// to the right.
func At(p orb.Point) Cell { return Cell{floor(p[0]), floor(p[1])} }

// Middle returns the middle of a square.
func (c Cell) Middle() orb.Point { return orb.Point{float64(c.X) + 0.5, float64(c.Y) + 0.5} }

// floor limits the result to an int32: our choice, far beyond any grid of the earth.
func floor(v float64) int32 {
	return int32(max(-1<<30, min(1<<30, math.Floor(v))))
}

// Set is a list of different squares, by row and then from left to right.
type Set []Cell

// sorted returns squares as a Set; repeats are removed.
func sorted(all []Cell) Set {
	slices.SortFunc(all, func(a, b Cell) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) })
	return slices.Compact(all)
}

// Cover returns the squares that contain ground of an area: those its outline passes through and
// those whose middle is inside. n log n in squares and vertices.
func Cover(area orb.MultiPolygon) Set {
	var all []Cell
	for _, polygon := range area {
		for _, ring := range polygon {
			for i := range len(ring) - 1 {
				all = appendLine(all, ring[i], ring[i+1])
			}
		}
		all = appendInside(all, polygon)
	}
	return sorted(all)
}

// appendLine appends the squares that the line from a to b passes through. It cuts the line where
// it meets the grid, and each piece is in one square.
func appendLine(all []Cell, a, b orb.Point) []Cell {
	cuts := []float64{0, 1}
	for axis := range 2 {
		from, to := a[axis], b[axis]
		if from > to {
			from, to = to, from
		}
		for at := math.Floor(from) + 1; at < to; at++ {
			cuts = append(cuts, (at-a[axis])/(b[axis]-a[axis]))
		}
	}
	slices.Sort(cuts)
	all = append(all, At(a), At(b))
	for i := range len(cuts) - 1 {
		t := (cuts[i] + cuts[i+1]) / 2
		all = append(all, At(orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}))
	}
	return all
}

// appendInside appends the squares whose middle is inside a polygon, from the crossings of each
// row's middle line with its rings.
func appendInside(all []Cell, polygon orb.Polygon) []Cell {
	crossings := map[int32][]float64{}
	for _, ring := range polygon {
		for i := range len(ring) - 1 {
			a, b := ring[i], ring[i+1]
			if a[1] > b[1] {
				a, b = b, a
			}
			first := math.Ceil(a[1] - 0.5)
			for y := first; y+0.5 < b[1]; y++ {
				t := (y + 0.5 - a[1]) / (b[1] - a[1])
				crossings[floor(y)] = append(crossings[floor(y)], a[0]+t*(b[0]-a[0]))
			}
		}
	}
	for y, row := range crossings { // sorted() orders them
		slices.Sort(row)
		for i := 0; i+1 < len(row); i += 2 {
			for x := math.Ceil(row[i] - 0.5); x+0.5 < row[i+1]; x++ {
				all = append(all, Cell{floor(x), y})
			}
		}
	}
	return all
}

// Along returns the squares that a line passes through.
func Along(line orb.LineString) Set {
	var all []Cell
	for i := range len(line) - 1 {
		all = appendLine(all, line[i], line[i+1])
	}
	return sorted(all)
}

// Of returns squares as a Set; repeats are removed.
func Of(all []Cell) Set { return sorted(slices.Clone(all)) }
