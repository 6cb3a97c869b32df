// Package result is one run's answer and the dictionary of its fields.
package result

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/crew"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/notice"
	"driftreach/internal/plan"
	"driftreach/internal/priority"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
	"driftreach/internal/treatable"
	"driftreach/internal/unit"
	"driftreach/internal/work"
)

// Stand is everything known about one stand.
type Stand struct {
	stand.Stand
	Zone         aquatic.Membership
	Drift        drift.Outcome              // at the batch's first water stage
	Flood        drift.Outcome              // at flood, when that is the second
	ReachBand    drift.Band[geo.Kilometers] // of Drift.ReachKm over the draws
	ExposureBand drift.Band[float64]        // of Drift.Exposure, likewise
	Plan         priority.Plan
	Done         followup.Part    // what control work since its survey treated
	Waiting      drift.Outcome    // of what waits for treatment: Drift where no part of its ground was treated; Reached is not set
	Treated      drift.Outcome    // of the ground that was, likewise; none else
	NextVisit    time.Time        // zero when none is due
	FollowUp     string           // what is to be done next, one sentence
	Shares       []allocate.Share // by unit, when reporting units were given
	Margin       margin.Stand     // how far off its acres may be
	Treatable    []treatable.Rule // when and whether it may be treated

	Change      lineage.Change // blank in the first batch of a chain
	Parents     []int32        // known stands it continues, into Previous.Known, by their id
	CarriedFrom survey.Quarter // nothing of it was found: the quarter it was last found in; zero for a stand mapped now
	Parts       StandParts     // what its infested acres are made of; none in the first batch of a chain
	Memory      lineage.Memory // what the chain remembers of it
}

// AsksTreatment says whether something of the stand waits for treatment.
func (s *Stand) AsksTreatment() bool { return priority.Asked(s.Status) && s.Done.Waits() > 0 }

// Stage is what one water stage of a batch comes to.
type Stage struct {
	Name     string // base or flood
	Balance  drift.Balance
	AtRiskKm geo.Kilometers // union of all reaches
}

// Run is the answer of one batch.
type Run struct {
	Quarter      survey.Quarter
	Chain        string           // identity of the chain of batches, that of its first
	Records      []survey.Record  // accepted, sorted by id
	ExtraColumns []string         // names of Notes.Extra, sorted
	StandOf      []int32          // by record: index into Stands, -1 for none
	CarriedFrom  []survey.Quarter // by record: the quarter it is carried from, zero for this quarter's own; nil for none
	InZone       []bool           // by record: its patch touches the zone
	Centerlines  []stream.Centerline
	Stands       []Stand        // in treatment order, then id
	Causes       *margin.Causes // of what their acres may be off by; nil for none
	Zones        []aquatic.Zone
	Network      *stream.Network
	Stages       []Stage             // one, or base and then flood
	Reaches      []drift.Reach       // stage by stage
	Units        []unit.Unit         // reporting units, sorted by id; none when nobody asked
	ReachShares  [][]allocate.Length // by reach, when there are units
	Steps        []drift.Step        // the treatment order and what each stand in it takes away
	Against      priority.Curves     // what the best sets and chance take away
	Links        []drift.Link        // which stand can seed which, the nearest, by stand and stand
	Linked       bool                // Links were asked for
	WorksGiven   bool                // planned works were asked for
	Works        []work.Work         // sorted by id
	Stretches    []stretch.Stretch   // of stream, in the order in which to look next; nil where that was not asked for
	WaterWork    *WaterWork          // what applications for work at the water ask for; nil where that was not asked for
	Notices      []notice.Notice     // by start of the work, its id, treatment order
	WorkGiven    bool                // control work was asked for
	Treatments   []Treatment         // control work done, this batch's and what earlier ones of the chain listed, by date and content
	Previous     *Previous           // the batch before; nil for the first of a chain
	Absent       []Absent            // stands once mapped and not detected since, by id
	Visits       []Visit             // follow-up of every stand known, first due first
	Events       []Event             // of the calendar of the batch before
	FollowUp     followup.Settings   // as set
	Crew         crew.Settings       // what crew sheets say, as set
	History      History             // summaries of the batches before
	EverBefore   []EverRow           // stages of all ever mapped, of the batches before
	LookChanges  []LookChange        // what each stand counted among the changes since the last look, of all quarters of the chain
	Surveyed     orb.MultiPolygon    // ground looked at in the chain, this quarter's with it: degrees, dissolved
	Findings     []check.Finding
	Setback      float64 // metres, as set: the legend and the cautions print it
	RiskShare    float64 // as set

	// Assumed names the settings that were left at a default without a
	// published source and that figures of the whole batch rest on, sorted.
	Assumed []string

	Coarse geo.Meters // of a public edition: side of the squares that places are coarsened to; 0 for the whole truth

	AcreDecimals uint8 // of the acres printed; those of AcreDecimals

	// Plan is what is to be done in the coming quarters with what each has; nil where
	// no budget was given. Its rows are in the order of the work: by planned quarter,
	// then place in it, with the stand as an index into Stands, the place to go to and
	// the days on which it may be treated. Crew files and lists follow that order.
	Plan *plan.Plan

	Draws      int                        // samples behind the bands; 0 for none
	Seed       uint64                     // of the samples
	AtRiskBand drift.Band[geo.Kilometers] // of the first stage's reach at risk
}

// bothStages says whether the batch has a flood stage beside its first.
func (r *Run) bothStages() bool { return len(r.Stages) > 1 }

// line returns the centerline at index i, an empty one for -1.
func (r *Run) line(i int32) *stream.Centerline {
	if i < 0 || int(i) >= len(r.Centerlines) {
		return &stream.Centerline{}
	}
	return &r.Centerlines[i]
}

// uncertain says whether a record's position may be off by more than the
// setback, so that its place in or out of the zone is uncertain.
func (r *Run) uncertain(record int32) bool {
	return float64(r.Records[record].Uncertainty) > r.Setback
}

// standID returns the identity of the stand at index i, blank for -1.
func (r *Run) standID(i int32) string {
	if i < 0 || int(i) >= len(r.Stands) {
		return ""
	}
	return r.Stands[i].ID
}
