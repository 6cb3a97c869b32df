package survey

import (
	"math"

	"driftreach/geo/earth"
)

// NearWork returns, in their order, copies of the records on which it depends what SettleAbsences sets
// aside: finds where control work was done at any time after, and the absences that may agree with
// their places. It goes through all records twice, and needs memory only for those it returns.
func NearWork(each func(yield func(*Record) error) error, worked Worked) ([]Record, error) {
	finds, places := map[string]bool{}, earth.NewGrid(2*mostUncertain)
	err := each(func(r *Record) error {
		if r.Detected && !r.Begin.IsZero() && worked(r, r.Begin, math.MaxInt32) {
			places.Add(int32(len(finds)), r.Position)
			finds[r.ID] = true
		}
		return nil
	})
	if err != nil || len(finds) == 0 {
		return nil, err
	}
	var out []Record
	err = each(func(r *Record) error {
		near := finds[r.ID]
		if !r.Detected && !r.End.IsZero() {
			places.Near(r.Position, func(int32) bool { near = true; return false })
		}
		if near {
			out = append(out, *r)
		}
		return nil
	})
	return out, err
}
