package part

import (
	"math"

	"driftreach/geo"
	"driftreach/geo/disjoint"
	"driftreach/geo/earth"
	"driftreach/internal/survey"
)

// roomOfCell is how much longer than the join distance the side of a cell is, so that no
// rounding puts two records that are that far apart two cells apart.
// Our choice: a millimetre is a million times what rounding does.
const roomOfCell = 1e-3

// cell is a cube of space, as stands measure distances through the earth.
type cell [3]int32

// groups returns, by record, the first record of the group that it lies in; -1 for one
// that nothing was detected at. Records within the join distance of each other, directly
// or through others, are of one group; some farther apart are too. Cost is that of the
// cells that hold records.
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

// eachBeside calls yield with the 26 cells around one.
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
