package part

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
	"driftreach/geo/earth"
	"driftreach/internal/survey"
)

// roomOfCell is added to the join distance to get the side of a cell. Two records at the join distance
// are then always in neighbouring cells, whatever the rounding. Our choice: a millimetre is a million
// times the rounding error.
const roomOfCell = 1e-3

// cell is a cube of space, since stands measure straight distances through the earth.
type cell [3]int32

// Groups finds which records must be in the same part: those within the join distance of each other,
// directly or through others. Some that are farther apart are in one group too. Records are added in
// the order of the batch; groups know only the cells that have records, some 28 bytes each.
type Groups struct {
	side   float64
	slots  []int32 // hash table of the cells: a cell's number + 1, or 0
	cells  []cell
	of     disjoint.Sets // by cell
	weight []int32       // by cell
}

// NewGroups returns no groups yet.
func NewGroups(join geo.Meters) *Groups {
	return &Groups{side: float64(join) + roomOfCell, slots: make([]int32, 1<<10)}
}

// Add adds a record in which something is detected, and returns the number of its cell.
func (g *Groups) Add(r *survey.Record) int32 {
	at := g.cellOf(r.Position)
	slot := g.slot(at)
	if number := g.slots[slot]; number > 0 {
		g.weight[number-1] += weightOf(r)
		return number - 1
	}
	number := int32(len(g.cells))
	g.slots[slot] = number + 1
	g.cells, g.of, g.weight = append(g.cells, at), append(g.of, number), append(g.weight, weightOf(r))
	eachBeside(at, func(near cell) {
		if other := g.slots[g.slot(near)]; other > 0 {
			g.of.Union(number, other-1)
		}
	})
	if 4*len(g.cells) > 3*len(g.slots) {
		g.slots = make([]int32, 2*len(g.slots))
		for i, c := range g.cells {
			g.slots[g.slot(c)] = int32(i) + 1
		}
	}
	return number
}

func (g *Groups) cellOf(p orb.Point) (at cell) {
	for k, v := range earth.ECEF(p) {
		at[k] = int32(math.Floor(v / g.side))
	}
	return at
}

// slot returns where a cell is in the table, or where it would be. The multipliers are those of the
// finalizer of SplitMix64 (Steele, Lea and Flood 2014, Fast splittable pseudorandom number generators).
func (g *Groups) slot(at cell) int {
	h := (uint64(uint32(at[0]))<<32|uint64(uint32(at[1])))*0xbf58476d1ce4e5b9 ^ uint64(uint32(at[2]))
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	last := len(g.slots) - 1 // a power of two less one
	for k := int(h>>31) & last; ; k = (k + 1) & last {
		if number := g.slots[k]; number == 0 || g.cells[number-1] == at {
			return k
		}
	}
}

// eachBeside calls yield with the 26 cells around a cell.
func eachBeside(at cell, yield func(cell)) {
	for x := int32(-1); x <= 1; x++ {
		for y := int32(-1); y <= 1; y++ {
			for z := int32(-1); z <= 1; z++ {
				if x != 0 || y != 0 || z != 0 {
					yield(cell{at[0] + x, at[1] + y, at[2] + z})
				}
			}
		}
	}
}

// perRecord is the weight of a record, if the weight of a vertex of the zone is 1. Stands take 15 us of
// processor time a record, 12 in small ones and 18 in one of thousands, and the zone 2.8 us a vertex
// (the parts of 100,000 and of 1,000,000 records on 27,000 lines, 2026-11-28).
const perRecord = 5

// weightOf returns the weight of a record, with the vertices of a drawn patch.
func weightOf(r *survey.Record) int32 {
	w := int32(perRecord)
	for _, polygon := range r.Outline {
		for _, ring := range polygon {
			w += int32(len(ring))
		}
	}
	return w
}
