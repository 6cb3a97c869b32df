// Package observed reads and checks one quarter's inputs. It reads records, streams and the other kinds
// of input, and checks them against each other.
package observed

import (
	"slices"

	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/earlier"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/treatable"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
	"driftreach/internal/valued"
	"driftreach/internal/work"
)

// Quarter is one quarter's input, read and checked.
type Quarter struct {
	Quarter       survey.Quarter
	Records       survey.Records // accepted
	ExtraColumns  []string
	Dated         []survey.Dated          // number of point records by quarter
	Centerlines   []stream.Centerline     // accepted, sorted by id
	WorksGiven    bool                    // planned works were in the input
	Works         []work.Work             // accepted, sorted by id
	Units         []unit.Unit             // reporting units, sorted by id; may be empty
	SurveyedGiven bool                    // surveyed ground was given
	Surveyed      []surveyed.Ground       // accepted, sorted by content
	WorkGiven     bool                    // control work was in the input
	WorkFirst     survey.Day              // first day from which work counts in the quarter's acres
	Actions       []treatment.Treatment   // control work, sorted by date and content
	Corrections   []correction.Correction // of earlier records and stands: first as read, then all of the chain that count, with what each changed
	Previous      *earlier.Batch          // the previous batch; nil for the first of a chain
	Barriers      []stream.Structure      // point barriers on their streams, sorted by id
	Water         []stream.Surface        // lakes and wide rivers drawn as areas, sorted by id
	Treatable     []treatable.Rule        // which stands may be treated and when, sorted by content
	Valued        []valued.Place          // valued places that count in a plan, sorted by id
	Findings      []check.Finding
	Files         []mapfile.File     // totals by file, for the manifest
	Rulings       correction.Rulings // what corrections say about how stands are mapped
	ColumnReports []intake.File      // by file: how its columns were understood
}

// Given says what there is beyond points and streams.
func (in *Quarter) Given() settings.Given {
	return settings.Given{
		Works: in.WorksGiven, Previous: in.Previous != nil,
		Flow: slices.ContainsFunc(in.Centerlines, func(l stream.Centerline) bool { return l.Permanence != stream.UnknownPermanence }),
	}
}

// Slots returns pointers to the records of every role, for the readers to fill and for check to show.
func (o *Quarter) Slots() []any {
	return []any{&o.Records.Listed, &o.Centerlines, &o.Works, &o.Units, &o.Surveyed, &o.Actions, &o.Barriers, &o.Water, &o.Corrections, &o.Treatable, &o.Valued}
}

// SetAside adds the records set aside to the totals of each points file, and counts the accepted
// records again.
func (o *Quarter) SetAside(aside []survey.Aside) {
	for i := range o.Files {
		total := &o.Files[i]
		if total.Role != intake.RolePoints || i >= len(o.ColumnReports) {
			continue
		}
		for _, a := range aside {
			if a.File == total.Name {
				total.SetAside += a.Records
			}
		}
		total.Accepted = o.Records.Of(total.Name)
		total.Rejected = total.Read - total.Accepted - total.SetAside
	}
}

func count[T any](all []T, is func(*T) bool) int {
	n := 0
	for i := range all {
		if is(&all[i]) {
			n++
		}
	}
	return n
}
