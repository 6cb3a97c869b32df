package batch

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/allocate"
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/host"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/observed"
	"driftreach/internal/priority"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/treatable"
)

// Made is the part of one quarter's computation that was made elsewhere, from a part of the input.
type Made struct {
	Stands []stand.Stand      // as stand.Measure has them, whatever their order
	Zone   []orb.MultiPolygon // by piece of the zone: as drawn
}

// computation is the state that the stages pass on.
type computation struct {
	ctx     context.Context
	in      observed.Quarter
	made    *Made // elsewhere; nil for nothing
	rules   settings.Stages
	wanted  settings.SurveyNextSettings
	atWater settings.WaterWorkSettings
	assumed []string // settings left at an assumed default
	host    host.Host

	stands    []stand.Stand
	standOf   []int32 // by record
	lineage   lineage.Lineage
	mapped    []geo.SquareMeters // by stand as mapped from this quarter's records: infested
	ancestry  []ancestry         // by stand, when there is a batch before
	from      []survey.Quarter   // by record: the quarter it is carried from; zero for this quarter's own
	copyOf    []int32            // by record: the record of the batch before that it is, -1 for this quarter's own
	margins   []margin.Stand     // by stand
	causes    *margin.Causes     // of what they are off by
	known     []margin.Form      // by known stand of the batch before: of its infested acres
	net       *stream.Network
	water     *aquatic.Water
	members   []aquatic.Membership // by stand
	touches   [][]aquatic.Touch    // by stand
	zones     []aquatic.Zone
	drift     drift.Drift
	flood     *drift.Drift      // when both stages are asked for
	bands     *drift.Bands      // when there are draws
	done      []followup.Part   // by stand: what work since its survey treated
	divided   divided           // the drift with what was treated by itself
	treatedAt []int32           // by stand: where divided has what was treated of it; -1 for no ground
	left      map[int32]float64 // by record of a stand treated in part: share of its patch that was not
	numbers   []int             // by stand: its place in the treatment order
	against   priority.Curves   // what the order is held against
	sorted    []int32           // stands in that order, as the answer has them
	place     []int32           // by stand: its index in the answer
	looked    orb.MultiPolygon  // ground looked at this quarter
	surveyed  orb.MultiPolygon  // and in the chain
	worksAt   [][]flow.Place    // by planned work: where it touches the aquatic zone
	findings  []check.Finding
	terms     *conditions   // when and whether stands may be treated
	units     *allocate.Map // reporting units; nil for none
	run       *result.Run
}

// ancestry is what one stand continues.
type ancestry struct {
	change  lineage.Change
	parents []int32        // known stands, by their id
	from    survey.Quarter // of a stand wholly carried: when it was last surveyed
	parts   result.StandParts
	memory  lineage.Memory
}

// divided is the drift with each stand that was treated in part as two: the rest in its
// own place, and what was treated behind all stands, in their order. It is the drift
// itself where no area was drawn.
type divided struct {
	drift.Drift
	flood *drift.Drift // when both stages are asked for
}

// conditions are the terms of treating the stands of the answer: when it may be done, and
// what factor its costs have.
type conditions struct {
	c       *computation
	rules   [][]treatable.Rule // by stand
	used    []bool             // by row told
	column  int                // of the points' own columns, whose words have factors; -1 for none
	planned []survey.Quarter
}

// riverKm returns the river kilometres of a place; NaN for none.
func (c *computation) riverKm(at flow.Place) geo.Kilometers {
	if at.Edge < 0 {
		return geo.Kilometers(math.NaN())
	}
	return c.net.Net.Edges[at.Edge].RiverKm(at.Offset)
}
