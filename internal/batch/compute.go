package batch

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// Observed is one quarter's input, read and checked.
type Observed struct {
	Quarter      survey.Quarter
	Records      []survey.Record // accepted, sorted by id
	ExtraColumns []string
	Centerlines  []stream.Centerline // accepted, sorted by id
	Findings     []check.Finding
	Files        []mapfile.File // totals by file, as the manifest lists them
	Understood   []intake.File  // the same files with how their columns were understood
}

// Compute turns one quarter's input into its answer: points become stands,
// streams become a network and its banks, stands meet the zone, fragments go
// down the network, and the stands are put in order. It opens nothing, prints
// nothing and reads no clock; the answer is the same for any number of
// workers. The error is that of a cancelled context or of a setting out of
// range.
func Compute(ctx context.Context, in Observed, s Settings, h Host) (*result.Run, error) {
	rules, err := s.stages()
	if err != nil {
		return nil, err
	}
	c := computation{ctx: ctx, in: in, rules: rules, assumed: s.Assumed(), workers: h.workers()}
	for _, stage := range []struct {
		name string
		run  func(*computation) error
	}{
		{"cluster points into stands", (*computation).mapStands},
		{"connect streams", (*computation).connect},
		{"find aquatic-zone stands", (*computation).judge},
		{"draw aquatic zone", (*computation).drawZone},
		{"follow fragments", (*computation).follow},
		{"order treatment", (*computation).order},
	} {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		done := h.progress().Stage(stage.name)
		err := stage.run(&c)
		done()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", stage.name, err)
		}
	}
	return c.run, nil
}

// computation is what the stages hand on.
type computation struct {
	ctx     context.Context
	in      Observed
	rules   stages
	assumed []string // settings left at an assumed default
	workers int

	stands   []stand.Stand
	standOf  []int32 // by record
	net      *stream.Network
	water    *aquatic.Water
	members  []aquatic.Membership // by stand
	touches  [][]aquatic.Touch    // by stand
	zones    []aquatic.Zone
	drift    drift.Drift
	findings []check.Finding
	run      *result.Run
}

func (c *computation) mapStands() (err error) {
	c.stands, c.standOf, err = stand.Map(c.in.Records, c.in.Quarter, c.rules.stands, c.workers)
	return err
}

func (c *computation) connect() error {
	c.net, c.findings = stream.Connect(c.in.Centerlines, c.rules.snap)
	c.water = aquatic.NewWater(c.net, c.rules.aquatic)
	return nil
}

func (c *computation) judge() error {
	c.members = make([]aquatic.Membership, len(c.stands))
	c.touches = make([][]aquatic.Touch, len(c.stands))
	return inParallel(c.ctx, len(c.stands), c.workers, func(i int) {
		c.members[i], c.touches[i] = c.water.Judge(&c.stands[i], c.in.Records, c.rules.stands)
	})
}

func (c *computation) drawZone() error {
	c.zones = c.water.Dissolve(c.workers)
	return nil
}

// follow releases each touching record's fragments: its canopy acres times
// the fragments of an acre, and a share of that once it is treated or dead.
func (c *computation) follow() error {
	released := drift.Released{Stands: len(c.stands)}
	for i, touches := range c.touches {
		for _, t := range touches {
			released.Sources = append(released.Sources, drift.Source{
				Stand: int32(i), Place: t.Place, Amount: c.strength(t.Record),
			})
		}
	}
	c.drift = drift.Follow(c.net, released, c.rules.drift, c.workers)
	return nil
}

// strength is what one record's patch releases.
func (c *computation) strength(record int32) float64 {
	r := &c.in.Records[record]
	patch := stand.PatchOf(*r, c.rules.stands)
	if r.Outline != nil {
		patch.Area = stand.OutlineArea(r.Outline)
	}
	amount := float64(patch.Area.Acres()) * patch.CoverPercent / 100 * c.rules.drift.FragmentsPerAcre
	if r.Status == survey.Treated || r.Status == survey.StandingDead {
		amount *= c.rules.drift.TreatedRelease
	}
	return amount
}

// order numbers the stands for treatment and puts the answer in that order.
func (c *computation) order() error {
	jobs := make([]treatment.Job, len(c.stands))
	for i := range c.stands {
		jobs[i] = treatment.Job{
			Reaches: c.drift.Reached[i],
			ReachKm: c.drift.Outcomes[i].ReachKm,
			Acres:   float64(c.stands[i].Infested.Acres()),
		}
	}
	numbers := treatment.Order(jobs)
	sorted := make([]int32, len(c.stands))
	for i := range sorted {
		sorted[i] = int32(i)
	}
	slices.SortFunc(sorted, func(a, b int32) int {
		return cmp.Or(cmp.Compare(numbers[a], numbers[b]), cmp.Compare(a, b))
	})
	c.assemble(sorted, numbers)
	return nil
}

// assemble builds the answer with stands in the given order.
func (c *computation) assemble(sorted []int32, numbers []int) {
	place := make([]int32, len(sorted))
	run := &result.Run{
		Quarter: c.in.Quarter, Records: c.in.Records, ExtraColumns: c.in.ExtraColumns,
		StandOf: make([]int32, len(c.in.Records)), InZone: make([]bool, len(c.in.Records)),
		Centerlines: c.in.Centerlines, Stands: make([]result.Stand, len(sorted)), Zones: c.zones,
		Reaches: c.drift.Reaches, Balance: c.drift.Balance, AtRiskKm: c.drift.AtRiskKm,
		Findings: append(slices.Clone(c.in.Findings), c.findings...),
		Setback:  float64(c.rules.aquatic.Setback), RiskShare: c.rules.drift.RiskShare, Assumed: c.assumed,
	}
	for at, i := range sorted {
		place[i] = int32(at)
		subject := treatment.Subject{Stand: &c.stands[i], Zone: c.members[i], Order: numbers[i]}
		run.Stands[at] = result.Stand{
			Stand: c.stands[i], Zone: c.members[i], Drift: c.drift.Outcomes[i],
			Plan: treatment.For(subject, c.in.Quarter, c.rules.treatment),
		}
		for _, t := range c.touches[i] {
			run.InZone[t.Record] = true
		}
	}
	for r, i := range c.standOf {
		run.StandOf[r] = -1
		if i >= 0 {
			run.StandOf[r] = place[i]
		}
	}
	for i := range run.Reaches {
		run.Reaches[i].NearestStand = place[run.Reaches[i].NearestStand]
	}
	check.Sort(run.Findings)
	c.run = run
}
