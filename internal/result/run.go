// Package result is one run's answer and the dictionary of its fields.
package result

import (
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// Stand is everything known about one stand.
type Stand struct {
	stand.Stand
	Zone  aquatic.Membership
	Drift drift.Outcome
	Plan  treatment.Plan
}

// Run is the answer of one batch.
type Run struct {
	Quarter      survey.Quarter
	Records      []survey.Record // accepted, sorted by id
	ExtraColumns []string        // names of Record.Extra, sorted
	StandOf      []int32         // by record: index into Stands, -1 for none
	InZone       []bool          // by record: its patch touches the zone
	Centerlines  []stream.Centerline
	Stands       []Stand // in treatment order, then id
	Zones        []aquatic.Zone
	Reaches      []drift.Reach
	Balance      drift.Balance
	AtRiskKm     float64 // union of all reaches
	Findings     []check.Finding
	Setback      float64 // metres, as set: the legend and the cautions print it
	RiskShare    float64 // as set

	// Assumed names the settings that were left at a default without a
	// published source and that figures of the whole batch rest on, sorted.
	Assumed []string
}

// line returns the centerline at index i, an empty one for -1.
func (r *Run) line(i int32) *stream.Centerline {
	if i < 0 || int(i) >= len(r.Centerlines) {
		return &stream.Centerline{}
	}
	return &r.Centerlines[i]
}

// standID returns the identity of the stand at index i, blank for -1.
func (r *Run) standID(i int32) string {
	if i < 0 || int(i) >= len(r.Stands) {
		return ""
	}
	return r.Stands[i].ID
}
