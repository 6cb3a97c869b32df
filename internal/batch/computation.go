package batch

import (
	"cmp"
	"context"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/allocate"
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/host"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/observed"
	"driftreach/internal/part"
	"driftreach/internal/priority"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/spill"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/treatable"
)

// Made holds results computed elsewhere, from a part of the quarter's input.
type Made struct {
	*part.Whole
	Shelf *spill.Shelf // for what is needed now and then; in memory or on disk
}

// inOrder returns the stands by their smallest record, as stand.Number numbers them, and their margins.
// It takes both from the whole.
func (m *Made) inOrder() ([]stand.Stand, []margin.Stand) {
	order := make([]int32, len(m.Stands))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Compare(m.Stands[a].Members[0], m.Stands[b].Members[0]) })
	stands, margins := make([]stand.Stand, len(order)), make([]margin.Stand, len(order))
	for at, i := range order {
		stands[at], margins[at] = m.Stands[i], m.Margins[i]
	}
	m.Stands, m.Margins = nil, nil
	return stands, margins
}

// computation is the state passed from stage to stage.
type computation struct {
	ctx     context.Context
	in      observed.Quarter
	made    *Made // results computed elsewhere; nil for none
	rules   settings.Stages
	wanted  settings.SurveyNextSettings
	atWater settings.WaterWorkSettings
	assumed []string // settings with an assumed default
	host    host.Host

	stands    []stand.Stand
	count     int            // of stands, from when they are judged; it stays when they are let go of
	standOf   []int32        // by record
	ready     []margin.Stand // by stand as mapped: its acreage error, found while it was measured; nil for none
	lineage   lineage.Lineage
	mapped    []geo.SquareMeters // infested area of each stand as mapped from this quarter's records
	ancestry  []ancestry         // by stand, if there is a previous batch
	from      []survey.Quarter   // by record: the quarter it is carried from; zero for this quarter's own records
	copyOf    []int32            // by record: its index in the previous batch; -1 for this quarter's own records
	margins   []margin.Stand     // by stand: its acreage error
	causes    *margin.Causes     // the sources of acreage error
	known     []margin.Form      // by known stand of the previous batch: the error of its infested acres
	net       *stream.Network
	water     *aquatic.Water
	members   []aquatic.Membership // by stand
	touches   [][]aquatic.Touch    // by stand
	inZone    []bool               // by record: its patch touches the zone
	zones     []aquatic.Zone
	drift     drift.Drift
	flood     *drift.Drift        // only if both stages are used
	bands     *drift.Bands        // only if there are draws
	done      []followup.Part     // by stand: the part treated since its survey
	divided   divided             // the drift with treated parts separated
	treatedAt []int32             // by stand: index of its treated part in divided; -1 for none
	left      map[int32]geo.Share // by record of a partly treated stand: the share of its patch that is not treated
	numbers   []int               // by stand: its number in the treatment order
	against   priority.Curves     // curves that the order is compared with
	sorted    []int32             // stands in treatment order, as in the result
	place     []int32             // by stand: its index in the result
	looked    lineage.Pieces      // ground surveyed this quarter
	surveyed  lineage.Pieces      // ground surveyed in the chain, this quarter included
	worksAt   [][]flow.Place      // by planned work: its places along the aquatic zone
	findings  []check.Finding
	terms     *conditions   // when stands may be treated, and at what cost factor
	units     *allocate.Map // reporting units; nil if none are given
	run       *result.Run
}

// shelf returns where to put what is needed now and then; nil to have it in memory.
func (c *computation) shelf() *spill.Shelf {
	if c.made == nil {
		return nil
	}
	return c.made.Shelf
}

// putFar returns where the lines of the network are put; nil for in memory.
func (c *computation) putFar() func(text []byte) (linear.Far, error) {
	shelf := c.shelf()
	if shelf == nil {
		return nil
	}
	return func(text []byte) (linear.Far, error) { return shelf.Put(text) }
}

// putDraws returns where the figures of the draws are put; nil for in memory.
func (c *computation) putDraws() func(text []byte) linear.Far {
	shelf := c.shelf()
	if shelf == nil || c.rules.Plan.Budget > 0 { // a plan asks for all of them
		return nil
	}
	return func(text []byte) linear.Far { return shelf.Take(text) }
}

// ancestry says what one stand continues.
type ancestry struct {
	mapped  int32 // the stand as mapped, if it is unchanged; -1 for none
	change  lineage.Change
	parents []int32        // known stands, by index, sorted by id
	from    survey.Quarter // for a stand carried as a whole: when it was last surveyed
	parts   result.StandParts
	memory  lineage.Memory
}

// divided is the drift with each partly treated stand split in two. The untreated part keeps the
// stand's index; the treated parts come after all stands, in the same order. If no treated area was
// drawn, it is the drift itself.
type divided struct {
	drift.Drift
	flood *drift.Drift // only if both stages are used
}

// conditions says, for the stands of the result, when they may be treated and at what cost factor.
type conditions struct {
	c       *computation
	rules   [][]treatable.Rule // by stand
	used    []bool             // by row of the input: it applies to a stand
	column  int                // index of the extra column of the points whose words have cost factors; -1 for none
	planned []survey.Quarter
}

// riverKm returns the river kilometre of a place; NaN for none.
func (c *computation) riverKm(at flow.Place) geo.Kilometers {
	if at.Edge < 0 {
		return geo.Kilometers(math.NaN())
	}
	return c.net.Net.Edges[at.Edge].RiverKm(at.Offset)
}

// report adds findings to those of the batch, in their order.
func (c *computation) report(findings ...check.Finding) {
	c.run.Findings = append(c.run.Findings, findings...)
	check.Sort(c.run.Findings)
}
