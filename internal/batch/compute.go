// Package batch turns one quarter's inputs into one folder of deliverables:
// inputs read, the batch before gone on from, the stages in order, files written.
package batch

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/drift"
	"driftreach/internal/earlier"
	"driftreach/internal/followup"
	"driftreach/internal/intake"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/margin"
	"driftreach/internal/priority"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
	"driftreach/internal/work"
)

// Observed is one quarter's input, read and checked.
type Observed struct {
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
	Findings      []check.Finding
	Files         []mapfile.File // totals by file, as the manifest lists them
	rulings       rulings        // what corrections say of stands that are yet to be mapped
	ColumnReports []intake.File  // the same files with how their columns were understood
}

// Compute turns one quarter's input into its answer: points become stands,
// streams become a network and its banks, stands meet the zone, fragments go
// down the network, and the stands are put in order. It opens nothing, prints
// nothing and reads no clock; the answer is the same for any number of
// workers. The error is that of a cancelled context or of a setting out of
// range.
func Compute(ctx context.Context, in Observed, s settings.Settings, h Host) (*result.Run, error) {
	rules, err := s.Stages()
	if err != nil {
		return nil, err
	}
	c := computation{ctx: ctx, in: in, rules: rules, assumed: s.AssumedFor(in.given()), host: h}
	if err := c.together(c.points, c.streams); err != nil {
		return nil, err
	}
	var steps []stage
	if in.Previous != nil {
		steps = append(steps, stage{"go on from the batch before", c.takeUpIdentities})
	}
	steps = append(steps, []stage{
		{"tell how far off acres may be", c.doubt},
		{"find aquatic-zone stands", c.judge},
		{"follow fragments", c.follow},
		{"draw samples", c.sample},
		{"order treatment", c.order},
		{"plan visits", c.followUp},
	}...)
	if len(in.Units) > 0 {
		steps = append(steps, stage{"divide acres by unit", c.divide})
	}
	if in.WorksGiven {
		steps = append(steps, stage{"find works to warn", c.notify})
	}
	if err = c.inTurn(steps); err != nil {
		return c.run, err
	}
	if in.Previous != nil {
		c.run.LookChanges = result.LookChanges(c.run, in.Previous.LookChanges)
	}
	return c.run, nil
}

// given is what there is beyond points and streams.
func (in *Observed) given() settings.Given {
	return settings.Given{
		Works: in.WorksGiven, Previous: in.Previous != nil,
		Flow: slices.ContainsFunc(in.Centerlines, func(l stream.Centerline) bool { return l.Permanence != stream.UnknownPermanence }),
	}
}

// computation is what the stages hand on.
type computation struct {
	ctx     context.Context
	in      Observed
	rules   settings.Stages
	assumed []string // settings left at an assumed default
	host    Host

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
	place     []int32           // by stand: its index in the answer
	findings  []check.Finding
	run       *result.Run
}

// stage is one step of the computation.
type stage struct {
	name string
	run  func() error
}

// inTurn runs stages one after the other until one fails or the context ends.
func (c *computation) inTurn(all []stage) error {
	for _, s := range all {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		done := c.host.progress().Stage(s.name)
		err := s.run()
		done()
		if err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
	}
	return nil
}

// together runs chains of stages that need nothing of each other.
func (c *computation) together(chains ...func() error) error {
	var tasks parallel.Group
	tasks.SetLimit(c.host.workers())
	for _, chain := range chains {
		tasks.Go(chain)
	}
	return tasks.Wait()
}

func (c *computation) points() error {
	return c.inTurn([]stage{{"cluster points into stands", c.mapStands}})
}

func (c *computation) streams() error {
	return c.inTurn([]stage{{"connect streams", c.connect}, {"draw aquatic zone", c.drawZone}})
}

func (c *computation) mapStands() (err error) {
	c.stands, c.standOf, err = stand.Map(c.in.Records, c.in.Quarter, c.rules.Stands, c.host.workers())
	return err
}

func (c *computation) connect() error {
	c.net, c.findings = stream.ConnectWaters(c.in.Centerlines, c.in.Barriers, c.in.Water, c.rules.Network)
	c.water = aquatic.NewWater(c.net, c.rules.Aquatic)
	return nil
}

func (c *computation) judge() error {
	c.members = make([]aquatic.Membership, len(c.stands))
	c.touches = make([][]aquatic.Touch, len(c.stands))
	return parallel.Each(c.ctx, len(c.stands), c.host.workers(), func(i int) {
		c.members[i], c.touches[i] = c.water.Judge(&c.stands[i], c.in.Records, c.rules.Stands)
	})
}

func (c *computation) drawZone() error {
	c.zones = c.water.Dissolve(c.host.workers())
	return nil
}

// follow releases the fragments of each record that touches the zone.
func (c *computation) follow() error {
	c.drift = drift.Follow(c.net, c.release(c.rules.Drift, c.rules.Beyond), c.rules.Drift, c.host.workers())
	if c.rules.Flood != nil {
		flood := drift.Follow(c.net, c.release(*c.rules.Flood, c.rules.FloodBeyond), *c.rules.Flood, c.host.workers())
		c.flood = &flood
	}
	return nil
}

// sample follows them again for each draw, those of records just outside the
// zone too.
func (c *computation) sample() error {
	if c.rules.Spread.Draws == 0 {
		return nil
	}
	bands, err := drift.Percentiles(c.ctx, c.net, c.rules.Drift, drift.Uncertain{
		Released: c.release(c.rules.Drift, geo.Meters(math.Inf(1))),
		Setback:  float64(c.rules.Aquatic.Setback + c.rules.Beyond), Spread: c.rules.Spread, Workers: c.host.workers(),
	})
	c.bands = &bands
	return err
}

// release lists the sources of a stage: the records that touch the zone, and those
// no farther than so far outside it.
func (c *computation) release(s drift.Settings, beyond geo.Meters) drift.Released {
	released := drift.Released{Stands: len(c.stands)}
	c.eachSource(s, beyond, func(_ int32, source drift.Source) { released.Sources = append(released.Sources, source) })
	return released
}

// eachSource calls put with each of them and its record.
func (c *computation) eachSource(s drift.Settings, beyond geo.Meters, put func(record int32, source drift.Source)) {
	for i, touches := range c.touches {
		for _, t := range touches {
			if t.InZone || t.Bank <= c.rules.Aquatic.Setback+beyond {
				put(t.Record, drift.Source{Stand: int32(i), Place: t.Place, Amount: s.Release(&c.in.Records[t.Record], c.rules.Stands), Bank: t.Bank})
			}
		}
	}
}

// linked returns the stands that fragments of one could come to, ascending, at any of
// the stages followed; flood may be nil.
func linked(d, flood *drift.Drift, i int32) []int32 {
	linked := d.Outcomes[i].Reached
	if flood == nil {
		return linked
	}
	linked = slices.Concat(linked, flood.Outcomes[i].Reached)
	slices.Sort(linked)
	return slices.Compact(linked)
}

// order numbers the stands for treatment and puts the answer in that order.
func (c *computation) order() error {
	c.done = c.worked()
	c.setApart()
	jobs := make([]priority.Job, len(c.stands))
	for i := range c.stands {
		jobs[i] = c.toTreat(int32(i))
	}
	numbers := priority.Order(jobs)
	sorted := make([]int32, len(c.stands))
	for i := range sorted {
		sorted[i] = int32(i)
	}
	slices.SortFunc(sorted, func(a, b int32) int {
		return cmp.Or(cmp.Compare(numbers[a], numbers[b]), cmp.Compare(a, b))
	})
	c.numbers, c.place = numbers, places(sorted)
	c.assemble(sorted, numbers)
	return nil
}
