// Package batch turns one quarter's inputs into one folder of deliverables:
// inputs read, the batch before read and continued, the stages in order, files written.
package batch

import (
	"context"
	"fmt"

	"driftreach/geo/parallel"
	"driftreach/internal/aquatic"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// Compute turns one quarter's input into its answer. Streams become a network with an
// aquatic zone along it, points become stands, and those of the batch before go on in
// them. Who touches the zone is found, fragments are followed down the network, and
// again for each sample. Stands are put in order, visits planned, people told, acres
// divided by unit, and what changed is counted.
//
// It opens nothing, prints nothing and reads no clock; the answer is the same for any
// number of workers. The error is that of a cancelled context or of a setting out of
// range.
func Compute(ctx context.Context, in observed.Quarter, s settings.Settings, h host.Host) (*result.Run, error) {
	return Finish(ctx, in, nil, s, h)
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
		{"find aquatic-zone stands", c.judge},
		{"follow fragments", c.follow},
		{"draw samples", c.sample},
	})
	if err != nil {
		return nil, err
	}
	err = c.atOnce( // the order keeps one processor busy
		[]stage{{"set apart what was treated", c.setApart}, {"order treatment", c.order}, {"say what is left out", c.leaveOut}},
		[]stage{{"gather the ground looked at", c.gatherLooked}, {"tell how far off acres may be", c.doubt}},
	)
	if err != nil {
		return nil, err
	}
	err = c.inTurn([]stage{
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
