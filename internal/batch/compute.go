// Package batch turns one quarter's inputs into one folder of deliverables: it reads the inputs, reads
// and continues the previous batch, runs the stages in order and writes the files.
package batch

import (
	"context"

	"driftreach/geo/parallel"
	"driftreach/internal/aquatic"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// Compute turns one quarter's input into its result. It connects the streams to a network with an
// aquatic zone, and maps points as stands that continue those of the previous batch. It finds the
// stands that touch the zone and follows their fragments down the network, once for the result and once
// for each sample. Then it puts the stands in treatment order, plans visits, finds the people to
// notify, divides acres by reporting unit and reports what changed.
//
// It opens no files, prints nothing and reads no clock. The result is the same for any number of
// workers. The error is that of a cancelled context or of a setting out of range.
func Compute(ctx context.Context, in observed.Quarter, s settings.Settings, h host.Host) (*result.Run, error) {
	return Finish(ctx, in, nil, s, h)
}

// Finish is Compute with some results already made elsewhere; nil for none. It takes made over.
func Finish(ctx context.Context, in observed.Quarter, made *Made, s settings.Settings, h host.Host) (*result.Run, error) {
	rules, err := s.Stages()
	if err != nil {
		return nil, err
	}
	c := computation{ctx: ctx, in: in, made: made, rules: rules, wanted: s.SurveyNext, atWater: s.WaterWork, assumed: s.Assumed(in.Given()), host: h}
	in = observed.Quarter{} // what c lets go of is let go
	goesOn := c.in.Previous != nil
	err = c.atOnce(
		// what parts have drawn is joined before the drift takes its room
		[]stage{{"connect streams", c.connect}, {"draw aquatic zone", when(c.made != nil, c.drawZone)}},
		[]stage{{"cluster points into stands", c.mapStands}},
	)
	if err != nil {
		return nil, err
	}
	err = c.inTurn([]stage{
		{"match stands with the batch before", when(goesOn, c.takeUpIdentities)},
		{"find aquatic-zone stands", c.judge},
	})
	if err != nil {
		return nil, err
	}
	alone := c.made == nil // otherwise the drift takes its room first
	err = c.atOnce(        // following fragments uses only one processor; the others go on beside it
		[]stage{{"follow fragments", c.follow}, {"set apart what was treated", c.setApart}},
		[]stage{{"gather the ground looked at", when(alone, c.gatherLooked)}, {"draw aquatic zone", when(alone, c.drawZone)}},
	)
	if err != nil {
		return nil, err
	}
	err = c.atOnce( // so does the treatment order
		[]stage{{"order treatment", c.order}, {"say what is left out", c.leaveOut}},
		[]stage{
			{"draw samples", c.sample}, {"gather the ground looked at", when(!alone, c.gatherLooked)},
			{"tell how far off acres may be", c.doubt},
		},
	)
	if err != nil {
		return nil, err
	}
	err = c.inTurn([]stage{
		{"put the answer together", c.assemble},
		{"read what may be treated", c.readConditions},
		{"link stands", c.link},
		{"plan visits", c.followUp},
		{"plan the coming quarters", when(c.plans(), c.planAhead)},
		{"find works to warn", when(c.in.WorksGiven, c.notify)},
		{"divide acres by unit", when(len(c.in.Units) > 0, c.divide)},
		{"measure work at the water", c.workAtWater},
		{"tell which ground counts twice", c.tellCommonGround},
		{"tell what changed", when(goesOn, c.tellChange)},
		{"tell what rests on defaults", when(goesOn, c.tellDefaults)},
		{"tell which statuses are missing", when(goesOn, c.tellStatuses)},
		{"find where to look next", c.lookNext}, // last: it takes most room, and lets go of what no stage asks for then
	})
	return c.run, err
}

// mapStands clusters the records into stands, and tells how far off the acres of each may be while its
// patches are laid out.
func (c *computation) mapStands() (err error) {
	var found []stand.Stand
	if c.made != nil {
		found, c.ready = c.made.inOrder()
	} else if found, c.ready, err = c.ownSurvey().Measure(c.host.Goroutines()); err != nil {
		return err
	}
	c.stands, c.standOf = stand.Number(found, c.in.Records.Len(), c.in.Quarter)
	return nil
}

// connect makes the stream network and the aquatic zone.
func (c *computation) connect() error {
	c.net, c.findings = stream.Connect(c.in.Centerlines, c.in.Barriers, c.in.Water, c.rules.Network)
	if err := c.net.Pack(c.putFar()); err != nil {
		return err
	}
	c.in.Centerlines = nil // the network has them
	c.water = aquatic.NewWater(c.net, c.rules.Aquatic)
	return nil
}

// judge finds which stands touch the zone, where, and with how much.
func (c *computation) judge() error {
	c.count = len(c.stands)
	c.members = make([]aquatic.Membership, len(c.stands))
	c.touches = make([][]aquatic.Touch, len(c.stands))
	c.inZone = make([]bool, c.in.Records.Len())
	defer func() {
		if c.made != nil && !c.asksWater() {
			c.water.DropIndex() // the zone is drawn already
		}
	}()
	return parallel.Each(c.ctx, len(c.stands), c.host.Goroutines(), func(i int) {
		st, records := c.withRecords(&c.stands[i])
		c.members[i], c.touches[i] = c.water.Judge(st, records, c.rules.Stands)
		for k := range c.touches[i] {
			t := &c.touches[i][k]
			if c.in.Records.Kept != nil {
				t.Record = c.stands[i].Members[t.Record]
			}
			c.inZone[t.Record] = t.InZone
		}
	})
}

// drawZone dissolves the zone into the polygons of the map.
func (c *computation) drawZone() (err error) {
	if c.made == nil {
		c.zones = c.water.Dissolve(c.host.Goroutines())
		return nil
	}
	if c.zones, err = c.water.Join(c.made.Drawn(), c.host.Goroutines()); err != nil {
		return err
	}
	c.made.Joined()
	for i := range c.zones {
		z := &c.zones[i]
		if z.Geometry, err = z.Geometry.Keep(c.made.Shelf.Keep); err != nil {
			return err
		}
	}
	return nil
}

// tellChange lists what each stand adds to the changes of the quarters.
func (c *computation) tellChange() error {
	c.run.LookChanges = result.LookChanges(c.run, c.in.Previous.LookChanges)
	return nil
}
