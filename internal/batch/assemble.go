package batch

import (
	"math"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/priority"
	"driftreach/internal/result"
	"driftreach/internal/settings"
)

// assemble builds the result, with the stands in treatment order.
func (c *computation) assemble() error {
	c.run = &result.Run{
		Quarter: c.in.Quarter, Chain: chainOf(&c.in), Records: c.in.Records, ExtraColumns: c.in.ExtraColumns,
		Network: c.net, Zones: c.zones,
		Findings: slices.Concat(c.in.Findings, c.findings),
		Setback:  float64(c.rules.Aquatic.Setback), RiskShare: float64(c.rules.Drift.RiskShare), Assumed: c.assumed,
		Draws: c.rules.Spread.Draws, Seed: c.rules.Spread.Seed, Crew: c.rules.Crew,
	}
	if c.made != nil {
		c.run.ZoneText = c.made.Text
	}
	check.Sort(c.run.Findings)
	c.addStands(c.sorted, c.numbers)
	c.addPrevious()
	c.run.AcreDecimals = result.AcreDecimals(c.run)
	c.addRecords()
	c.run.Surveyed = c.surveyed
	c.addStage(&c.drift, c.rules.Stage)
	if c.flood != nil {
		c.addStage(c.flood, settings.FloodStage)
	}
	if c.bands != nil {
		c.run.AtRiskBand = c.bands.AtRisk
	}
	c.run.Steps, c.run.Against = c.steps(c.sorted), c.against
	for i := range c.run.Steps {
		c.run.Steps[i].Stand = c.place[c.run.Steps[i].Stand]
	}
	c.letGo()
	return nil
}

func (c *computation) addStands(sorted []int32, numbers []int) {
	same := map[string][]string{} // requirements that many stands have in common
	c.run.Stands, c.run.Causes = make([]result.Stand, len(sorted)), c.causes
	for at, i := range sorted {
		planned, zone := c.stands[i], c.members[i]
		planned.Status, zone.InZone = c.planned(i), c.wetRest(i)
		if c.asked(i) {
			planned.Infested *= geo.SquareMeters(1 - c.done[i].Share) // only what is left to treat
		}
		subject := priority.Subject{Stand: &planned, Zone: zone, Order: numbers[i]}
		todo := priority.For(subject, c.rules.Treatment)
		if key := strings.Join(todo.Requirements, "\n"); same[key] == nil {
			same[key] = todo.Requirements
		} else {
			todo.Requirements = same[key]
		}
		s := result.Stand{
			Stand: c.stands[i], Zone: c.members[i], Drift: c.drift.Outcomes[i],
			Advice: todo, Done: c.done[i], Margin: c.margins[i],
		}
		if c.ancestry != nil {
			s.Change, s.Parents, s.CarriedFrom, s.Parts = c.ancestry[i].change, c.ancestry[i].parents, c.ancestry[i].from, c.ancestry[i].parts
			s.Memory = c.ancestry[i].memory
		} else {
			s.Memory.Ever = s.Infested.Grains()
		}
		if c.treatedAt[i] >= 0 {
			s.Waiting, s.Treated = &c.divided.Outcomes[i], &c.divided.Outcomes[c.treatedAt[i]]
		}
		s.Drift.Reached = inPlaces(linked(&c.drift, c.flood, i), c.place)
		if math.IsNaN(float64(s.Drift.RiverKm)) {
			s.Drift.RiverKm = c.riverKm(s.Zone.Place)
		}
		if c.flood != nil {
			s.Flood = &c.flood.Outcomes[i]
		}
		if c.bands != nil {
			s.ReachBand, s.ExposureBand = c.bands.Reach[i], c.bands.Exposure[i]
		}
		c.run.Stands[at] = s
	}
}

func (c *computation) addRecords() {
	c.run.StandOf, c.run.InZone = c.standOf, c.inZone
	for r, i := range c.run.StandOf {
		if i >= 0 {
			c.run.StandOf[r] = c.place[i]
		}
	}
}

// addStage adds the results of one water stage: its mass balance and its reaches, with stands numbered
// as in the result. It takes the reaches over: those of a country are half a gigabyte.
func (c *computation) addStage(d *drift.Drift, name string) {
	c.run.Stages = append(c.run.Stages, result.Stage{Name: name, Balance: d.Balance, AtRiskKm: d.AtRiskKm})
	for i := range d.Reaches {
		r := &d.Reaches[i]
		if r.NearestStand >= 0 {
			r.NearestStand = c.place[r.NearestStand]
		}
		r.Stage = uint8(len(c.run.Stages) - 1)
	}
	if c.run.Reaches == nil {
		c.run.Reaches = slices.Clip(d.Reaches)
	} else {
		c.run.Reaches = append(c.run.Reaches, d.Reaches...)
	}
	d.Reaches = nil
}
