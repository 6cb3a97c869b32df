package margin

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// Off is the standard deviation of an area in independent parts: the errors of the default patch
// and cover, common to all quarters, and the errors of what was measured in each quarter.
type Off struct {
	Defaults geo.SquareMeters // negative where a larger default makes the area smaller
	Looks    []LookOff        // by quarter
}

// LookOff is the part from the records of one quarter.
type LookOff struct {
	Quarter survey.Quarter
	Sigma   geo.SquareMeters
}

// Split divides a form into these parts. now is the quarter of its unshared errors. The squares of
// the parts add up to that of Sigma.
func (c *Causes) Split(f *Form, now survey.Quarter) Off {
	f.Settle()
	variance := map[survey.Quarter]float64{}
	if f.own > 0 {
		variance[now] = f.own
	}
	var out Off
	cover := 0.0
	for _, t := range f.shared {
		switch {
		case t.cause == defaultPatch:
			out.Defaults = geo.SquareMeters(t.weight)
		case t.cause == defaultCover:
			cover = t.weight
		case t.weight != 0:
			variance[c.quarterOf(t.cause)] += t.weight * t.weight
		}
	}
	if cover != 0 {
		out.Defaults = geo.SquareMeters(math.Hypot(float64(out.Defaults), cover))
	}
	for q, v := range variance { // sorted below
		out.Looks = append(out.Looks, LookOff{q, geo.SquareMeters(math.Sqrt(v))})
	}
	slices.SortFunc(out.Looks, func(a, b LookOff) int { return a.Quarter.Begin().Compare(b.Quarter.Begin()) })
	return out
}

// quarterOf returns the quarter of the survey that a cause belongs to.
func (c *Causes) quarterOf(cause int32) survey.Quarter {
	at, found := slices.BinarySearchFunc(c.blocks, cause, func(b block, cause int32) int { return cmp.Compare(b.first, cause) })
	if !found {
		at--
	}
	return c.blocks[at].quarter
}
