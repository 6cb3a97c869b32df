package part

import (
	"math"

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

// groups returns, by record, the index of the first record of its group; -1 for a record with nothing
// detected. Records within the join distance of each other, directly or through others, are in the same
// group; some that are farther apart are too. The cost is proportional to the number of cells with
// records.
func groups(records []survey.Record, join geo.Meters) []int32 {
	side := float64(join) + roomOfCell
	of, first := disjoint.NewSets(len(records)), map[cell]int32{}
	for i := range records {
		if !records[i].Detected {
			continue
		}
		xyz := earth.ECEF(records[i].Position)
		var at cell
		for k := range at {
			at[k] = int32(math.Floor(xyz[k] / side))
		}
		if other, met := first[at]; met {
			of.Union(int32(i), other)
			continue
		}
		first[at] = int32(i)
		eachBeside(at, func(near cell) {
			if other, met := first[near]; met {
				of.Union(int32(i), other)
			}
		})
	}
	out := make([]int32, len(records))
	for i := range out {
		if out[i] = -1; records[i].Detected {
			out[i] = of.Find(int32(i))
		}
	}
	return out
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
