package stretch

import (
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// State says whether something was looked at.
type State uint8

// The states.
const (
	Never   State = iota // not in this chain of batches
	Unknown              // in the chain, in an unrecorded quarter
	Looked
)

// Look is the time of the last look at something.
type Look struct {
	State   State
	Quarter survey.Quarter // of the look; for other states, the first quarter for which exposure counts
}

// Counted returns the first quarter for which exposure since the look counts.
func (l Look) Counted() survey.Quarter {
	if l.State == Looked {
		return l.Quarter.Next()
	}
	return l.Quarter
}

// Quarters returns the number of quarters from a look to now; ok is false for a look of unknown
// time.
func (l Look) Quarters(now survey.Quarter) (n int, ok bool) {
	return between(l.Quarter, now), l.State == Looked
}

// between counts the quarters from one to another.
func between(from, to survey.Quarter) int {
	return to.Ordinal() - from.Ordinal()
}

// Cell is a short part of a stretch, with its left and right bank, looking downstream.
type Cell struct{ Banks [2]Bank }

// Bank is one bank of a cell.
type Bank struct {
	Last     Look
	Exposure drift.Amount // since the last look, per kilometre
}
