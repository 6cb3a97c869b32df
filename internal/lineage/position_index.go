package lineage

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// spots finds positions in boxes in degrees. The positions are sorted by row and column of a grid,
// so that those in one row of a box are consecutive.
type spots struct {
	cells []cell
	side  float64 // of a cell, degrees
}

// cell is the grid cell of a position, packed so that rows come before columns.
type cell struct {
	key   uint64
	index int32
}

// newSpots sorts the positions 0 to n-1 into cells with the given side in degrees. Costs as much as
// sorting them.
func newSpots(n int, side float64, at func(i int32) orb.Point) *spots {
	s := &spots{make([]cell, n), side}
	for i := range s.cells {
		p := at(int32(i))
		s.cells[i] = cell{key(s.row(p[1]), s.row(earth.Wrap(p[0]))), int32(i)}
	}
	slices.SortFunc(s.cells, func(a, b cell) int {
		return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.index, b.index))
	})
	return s
}

// row returns the row of a latitude, or the column of a longitude in [-180, 360).
func (s *spots) row(degrees float64) uint32 { return uint32(math.Floor((degrees + 360) / s.side)) }

func key(row, column uint32) uint64 { return uint64(row)<<32 | uint64(column) }

// in calls look for each position in the cells of a box until it returns false, and says whether it
// never did.
func (s *spots) in(box orb.Bound, look func(i int32) bool) bool {
	for _, part := range wrapped(box) {
		for r := s.row(part.Min[1]); r <= s.row(part.Max[1]); r++ {
			first, _ := slices.BinarySearchFunc(s.cells, key(r, s.row(part.Min[0])), func(c cell, k uint64) int { return cmp.Compare(c.key, k) })
			last := key(r, s.row(part.Max[0]))
			for _, c := range s.cells[first:] {
				if c.key > last {
					break
				}
				if !look(c.index) {
					return false
				}
			}
		}
	}
	return true
}
