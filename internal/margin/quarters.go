package margin

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// Off is the standard deviation of an area in two kinds of parts, independent of each
// other: what the default patch and cover do, which every quarter has in common, and
// what was measured in each quarter, which none other has.
type Off struct {
	Defaults geo.SquareMeters // below 0 where a larger default makes the area smaller
	Looks    []LookOff        // by quarter
}

// LookOff is what the records of one quarter do.
type LookOff struct {
	Quarter survey.Quarter
	Sigma   geo.SquareMeters
}

// Split returns the parts of a form whose records of its own are of a quarter; the
// squares of the parts add up to that of Sigma.
func (c *Causes) Split(f *Form, now survey.Quarter) Off {
	f.settle()
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

// block is causes in a row that are of one quarter.
type block struct {
	first   int32
	quarter survey.Quarter
}

// quarterOf returns the quarter in which what a cause is about was looked at.
func (c *Causes) quarterOf(cause int32) survey.Quarter {
	at, found := slices.BinarySearchFunc(c.blocks, cause, func(b block, cause int32) int { return cmp.Compare(b.first, cause) })
	if !found {
		at--
	}
	return c.blocks[at].quarter
}
