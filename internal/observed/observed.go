// Package observed reads and checks one quarter's inputs: every kind becomes records, streams and
// other inputs, and they are checked against each other.
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
	Records       []survey.Record // accepted, sorted by id
	ExtraColumns  []string
	Dated         []survey.Dated          // how many records of points were given, by quarter
	Centerlines   []stream.Centerline     // accepted, sorted by id
	WorksGiven    bool                    // planned works were asked for
	Works         []work.Work             // accepted, sorted by id
	Units         []unit.Unit             // reporting units, sorted by id; none when nobody asks
	SurveyedGiven bool                    // surveyed ground was given
	Surveyed      []surveyed.Ground       // accepted, in the order of its content
	WorkGiven     bool                    // control work was asked for
	WorkFirst     survey.Day              // first day whose work counts in the quarter's acres
	Actions       []treatment.Treatment   // control work done, by date and content
	Corrections   []correction.Correction // of earlier records and stands: as read, then all of the chain that count, with what each did
	Previous      *earlier.Batch          // the batch before; nil for the first of a chain
	Barriers      []stream.Structure      // barriers that are points, on their streams, sorted by id
	Water         []stream.Surface        // lakes and wide rivers drawn as areas, sorted by id
	Treatable     []treatable.Rule        // what may be treated and when, by content
	Valued        []valued.Place          // places that count in a plan, sorted by id
	Findings      []check.Finding
	Files         []mapfile.File     // totals by file, as the manifest lists them
	Rulings       correction.Rulings // what corrections say of stands that are yet to be mapped
	ColumnReports []intake.File      // the same files with how their columns were understood
}

// Given is what there is beyond points and streams.
func (in *Quarter) Given() settings.Given {
	return settings.Given{
		Works: in.WorksGiven, Previous: in.Previous != nil,
		Flow: slices.ContainsFunc(in.Centerlines, func(l stream.Centerline) bool { return l.Permanence != stream.UnknownPermanence }),
	}
}

// Slots returns the addresses of the records of every role: what its readers fill,
// and check shows.
func (o *Quarter) Slots() []any {
	return []any{&o.Records, &o.Centerlines, &o.Works, &o.Units, &o.Surveyed, &o.Actions, &o.Barriers, &o.Water, &o.Corrections, &o.Treatable, &o.Valued}
}

// setAside adds what was set aside of each file of points to its totals, and
// counts again what is accepted.
func (o *Quarter) SetAside(aside []survey.Aside) {
	for i := range o.Files {
		total := &o.Files[i]
		if total.Role != "points" || i >= len(o.ColumnReports) {
			continue
		}
		for _, a := range aside {
			if a.File == total.Name {
				total.SetAside += a.Records
			}
		}
		total.Accepted = count(o.Records, func(rec *survey.Record) bool { return rec.File == total.Name })
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
