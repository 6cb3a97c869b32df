// Package batch turns one quarter's inputs into one folder of deliverables:
// inputs read, the batch before read and continued, the stages in order, files written.
package batch

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/parallel"
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
)

// Compute turns one quarter's input into its answer. Streams become a network with an
// aquatic zone along it, points become stands, and those of the batch before go on in
// them. Who touches the zone is found, fragments are followed down the network, and
// again for each sample. Stands are put in order, visits planned, people told, acres
// divided by unit, and what changed is told.
//
// It opens nothing, prints nothing and reads no clock; the answer is the same for any
// number of workers. The error is that of a cancelled context or of a setting out of
// range.
func Compute(ctx context.Context, in observed.Quarter, s settings.Settings, h host.Host) (*result.Run, error) {
	return Finish(ctx, in, nil, s, h)
}

// Made is what was made elsewhere of one quarter's input: all that needs no more of it
// than a part.
type Made struct {
	Stands []stand.Stand      // as stand.Measure has them, whatever their order
	Zone   []orb.MultiPolygon // by piece of the zone: as drawn
}

// Finish is Compute of which some was made elsewhere; nil for nothing. It takes that over.
func Finish(ctx context.Context, in observed.Quarter, made *Made, s settings.Settings, h host.Host) (*result.Run, error) {
	rules, err := s.Stages()
	if err != nil {
		return nil, err
	}
	c := computation{ctx: ctx, in: in, made: made, rules: rules, wanted: s.SurveyNext, atWater: s.WaterWork, assumed: s.AssumedFor(in.Given()), host: h}
	goesOn := in.Previous != nil
	err = c.atOnce(
		[]stage{{"connect streams", c.connect}, {"draw aquatic zone", c.drawZone}},
		[]stage{{"cluster points into stands", c.mapStands}},
	)
	if err != nil {
		return nil, err
	}
	err = c.inTurn([]stage{
		{"match stands with the batch before", when(goesOn, c.takeUpIdentities)},
		{"tell how far off acres may be", c.doubt},
		{"find aquatic-zone stands", c.judge},
		{"follow fragments", c.follow},
		{"draw samples", c.sample},
		{"set apart what was treated", c.setApart},
		{"order treatment", c.order},
		{"say what is left out", c.leaveOut},
		{"put the answer together", c.assemble},
		{"read what may be treated", c.readConditions},
		{"link stands", c.link},
		{"plan visits", c.followUp},
		{"plan the coming quarters", when(c.rules.Plan.Budget > 0, c.planAhead)},
		{"find works to warn", when(in.WorksGiven, c.notify)},
		{"find where to look next", c.lookNext},
		{"divide acres by unit", when(len(in.Units) > 0, c.divide)},
		{"measure work at the water", c.workAtWater},
		{"tell what changed", when(goesOn, c.tellChange)},
	})
	return c.run, err
}

// computation is what the stages hand on.
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
	worksAt   [][]flow.Place    // by planned work: where it touches the aquatic zone
	findings  []check.Finding
	terms     *conditions   // what is said of treating the stands
	units     *allocate.Map // reporting units; nil for none
	run       *result.Run
}

// mapStands clusters the records.
func (c *computation) mapStands() (err error) {
	var found []stand.Stand
	if c.made != nil {
		found = c.made.Stands
	} else if found, err = stand.Measure(c.in.Records, c.rules.Stands, c.host.Goroutines()); err != nil {
		return err
	}
	c.stands, c.standOf = stand.Number(found, len(c.in.Records), c.in.Quarter)
	return nil
}

// connect makes the network and what lies along it.
func (c *computation) connect() error {
	c.net, c.findings = stream.Connect(c.in.Centerlines, c.in.Barriers, c.in.Water, c.rules.Network)
	c.water = aquatic.NewWater(c.net, c.rules.Aquatic)
	return nil
}

// judge finds which stands touch the zone, where, and by how much.
func (c *computation) judge() error {
	c.members = make([]aquatic.Membership, len(c.stands))
	c.touches = make([][]aquatic.Touch, len(c.stands))
	return parallel.Each(c.ctx, len(c.stands), c.host.Goroutines(), func(i int) {
		c.members[i], c.touches[i] = c.water.Judge(&c.stands[i], c.in.Records, c.rules.Stands)
	})
}

// drawZone dissolves the zone for the map.
func (c *computation) drawZone() error {
	if c.made == nil {
		c.zones = c.water.Dissolve(c.host.Goroutines())
		return nil
	}
	if pieces := len(c.water.Pieces()); len(c.made.Zone) != pieces {
		return fmt.Errorf("%d pieces of the zone were drawn elsewhere, and there are %d", len(c.made.Zone), pieces)
	}
	c.zones = c.water.Join(c.made.Zone, c.host.Goroutines())
	return nil
}

// tellChange lists what each stand counts among the changes of its quarters.
func (c *computation) tellChange() error {
	c.run.LookChanges = result.LookChanges(c.run, c.in.Previous.LookChanges)
	return nil
}
