package margin

import (
	"math"

	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Survey is a set of records with the errors they share.
type Survey struct {
	Records   []survey.Record
	Observers []int32 // by record, as returned by Causes.Of
	Own       []int32 // by record, as returned by Causes.OwnOf; nil when no record has a copy
	Rules     stand.Settings
	Settings  Settings
}

// Measure returns the stands of the records, as stand.Measure does, and by stand the uncertainty of its
// acres, in less time than one after the other.
func (s *Survey) Measure(workers int) ([]stand.Stand, []Stand, error) {
	return stand.MeasureAnd(s.Records, s.Rules, workers, s.OfLaid)
}

// axis is the radius that contains 68 % of positions, in standard deviations of one axis, when both
// axes scatter equally: sqrt(-2 ln 0.32).
var axis = math.Sqrt(-2 * math.Log(0.32))
