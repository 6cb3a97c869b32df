// Package result has the result of one run and the dictionary of its fields.
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
	"driftreach/internal/part"
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

// Stand is everything that is known about one stand.
type Stand struct {
	stand.Stand
	Zone         aquatic.Membership
	Drift        drift.Outcome              // at the batch's first water stage
	Flood        *drift.Outcome             // at flood, if that is the second stage
	ReachBand    drift.Band[geo.Kilometers] // of Drift.ReachKm over the draws
	ExposureBand drift.Band[drift.AmountKm] // the same for Drift.Exposure
	Advice       priority.Advice
	Done         followup.Part    // the part that control work has treated since its survey
	Waiting      *drift.Outcome   // of the part to treat; nil if no ground of it was treated, see ToTreat; Reached is not set
	Treated      *drift.Outcome   // of the treated ground, in the same way; nil if there is none
	NextVisit    time.Time        // zero if none is due
	FollowUp     string           // what to do next, one sentence
	Shares       []allocate.Share // by unit, if reporting units were given
	Margin       margin.Stand     // error of its acres
	Treatable    []treatable.Rule // when it may be treated, if at all

	Change      lineage.Change // blank in the first batch of a chain
	Parents     []int32        // known stands it continues, as indices into Previous.Known, sorted by id
	CarriedFrom survey.Quarter // if nothing of it was found: the quarter it was last found in; zero for a stand mapped now
	Parts       StandParts     // what its infested acres consist of; none in the first batch of a chain
	Memory      lineage.Memory // what the chain remembers of it
}

// AsksTreatment says whether any part of the stand needs treatment.
func (s *Stand) AsksTreatment() bool { return priority.Asked(s.Status) && s.Done.Waits() > 0 }

// ToTreat is the outcome of the part to treat: Drift if no ground of the stand was treated.
func (s *Stand) ToTreat() *drift.Outcome {
	if s.Waiting == nil {
		return &s.Drift
	}
	return s.Waiting
}

// inFlood is the outcome at flood; a zero one if flood is not the second stage.
func (s *Stand) inFlood() *drift.Outcome {
	if s.Flood == nil {
		return &drift.Outcome{}
	}
	return s.Flood
}

// Stage is the result of one water stage.
type Stage struct {
	Name     string // base or flood
	Balance  drift.Balance
	AtRiskKm geo.Kilometers // union of all reaches
}

// Run is the result of one batch.
type Run struct {
	Quarter      survey.Quarter
	Chain        string              // name of the chain, made from its first batch
	Records      survey.Records      // accepted
	ExtraColumns []string            // names of Notes.Extra, sorted
	StandOf      []int32             // by record: index into Stands; -1 for none
	CarriedFrom  []survey.Quarter    // by record: the quarter it is carried from, zero for this quarter's own; nil if none is carried
	InZone       []bool              // by record: its patch touches the zone
	Centerlines  []stream.Centerline // nil if they are packed in the network: see Line
	Stands       []Stand             // in treatment order, then id
	Causes       *margin.Causes      // sources of acreage error; nil for none
	Zones        []aquatic.Zone
	ZoneText     func(body string) (part.Text, bool) // the shape of a water body as text; nil where no part has written any
	Network      *stream.Network
	Stages       []Stage             // one, or base and then flood
	Reaches      []drift.Reach       // stage by stage
	Units        []unit.Unit         // reporting units, sorted by id; may be empty
	ReachShares  [][]allocate.Length // by reach, if there are units
	Steps        []drift.Step        // the treatment order, and what treating each stand in it removes
	Against      priority.Curves     // curves of the best sets and of random orders
	Links        []drift.Link        // which stand can seed which; the nearest ones, sorted by both stands
	Linked       bool                // Links were computed
	WorksGiven   bool                // planned works were in the input
	Works        []work.Work         // sorted by id
	Stretches    []stretch.Stretch   // of stream, in the order in which to survey next; nil if not computed
	WaterWork    *WaterWork          // what applications for work at the water need; nil if not computed
	Notices      []notice.Notice     // by start of the work, its id, treatment order
	WorkGiven    bool                // control work was in the input
	Treatments   []Treatment         // control work of this batch and of the chain's earlier ones, by date and content
	Previous     *Previous           // the previous batch; nil for the first of a chain
	Absent       []Absent            // stands once mapped and not detected since, by id
	Visits       []Visit             // follow-up of every known stand, the earliest due first
	Events       []Event             // of the previous batch's calendar
	FollowUp     followup.Settings   // as set
	Crew         crew.Settings       // texts of the crew sheets, as set
	History      History             // summaries of the earlier batches
	EverBefore   []EverRow           // stages of everything ever mapped, from the earlier batches
	LookChanges  []LookChange        // what each stand added to the changes since the last survey, in all quarters of the chain
	Surveyed     lineage.Pieces      // ground surveyed in the chain, including this quarter
	Findings     []check.Finding
	Setback      float64 // metres, as set; printed in the legend and the cautions
	RiskShare    float64 // as set

	// Assumed names the settings that were left at a default without a published source and on which
	// figures of the whole batch depend, sorted.
	Assumed []string

	// if kept, see Summed
	sums  []Sum
	water []waterRow

	Coarse geo.Meters // of a public edition: side of the grid squares; 0 for an exact batch

	AcreDecimals uint8 // decimals of printed acres, see AcreDecimals

	// Plan is what to do in the coming quarters within the budget; nil if no budget was given. Its rows
	// are in the order of the work: by planned quarter, then by place in it. Each has the stand as an
	// index into Stands, the place to go to, and the days on which it may be treated. Crew files and
	// lists follow that order.
	Plan *plan.Plan

	Draws      int                        // samples for the bands; 0 for none
	Seed       uint64                     // of the samples
	AtRiskBand drift.Band[geo.Kilometers] // of the first stage's reach at risk
}

// bothStages says whether the batch has a flood stage besides its first.
func (r *Run) bothStages() bool { return len(r.Stages) > 1 }

// Line returns the centerline at index i, as stream.Network.Line does; an empty one for -1.
func (r *Run) Line(i int32) stream.Centerline {
	switch {
	case i < 0 || int(i) >= r.CountLines():
		return stream.Centerline{}
	case r.Centerlines != nil:
		return r.Centerlines[i]
	}
	return r.Network.Line(i)
}

// CountLines returns the number of centerlines.
func (r *Run) CountLines() int {
	if r.Centerlines != nil || r.Network == nil {
		return len(r.Centerlines)
	}
	return r.Network.CountLines()
}

// PathOf returns the path of the centerline at index i, in degrees.
func (r *Run) PathOf(i int) orb.LineString {
	if r.Centerlines != nil {
		return r.Centerlines[i].Path
	}
	return r.Network.Drawn.At(i)
}

// uncertain says whether the uncertainty of a record's position exceeds the setback, so that it may be
// inside or outside the zone.
func (r *Run) uncertain(record int32) bool {
	return float64(r.Records.Glance(int(record)).Uncertainty) > r.Setback
}

// standID returns the id of the stand at index i; blank for -1.
func (r *Run) standID(i int32) string {
	if i < 0 || int(i) >= len(r.Stands) {
		return ""
	}
	return r.Stands[i].ID
}
