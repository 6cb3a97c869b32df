package batch

import (
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// follow releases the fragments of each record that touches the zone.
func (c *computation) follow() error {
	c.drift = drift.Follow(c.net, c.release(c.rules.Drift, c.rules.Beyond), c.rules.Drift, c.host.Goroutines())
	if c.rules.Flood != nil {
		flood := drift.Follow(c.net, c.release(*c.rules.Flood, c.rules.FloodBeyond), *c.rules.Flood, c.host.Goroutines())
		c.flood = &flood
	}
	return nil
}

// sample follows the fragments again for each draw, including those of records just outside the zone.
func (c *computation) sample() error {
	if c.rules.Spread.Draws == 0 {
		return nil
	}
	released := c.release(c.rules.Drift, geo.Meters(math.Inf(1)))
	if c.touchesDone() {
		c.touches = nil // some seventh of what is held now
	}
	bands, err := drift.Percentiles(c.ctx, c.net, c.rules.Drift, drift.Uncertain{
		Released: released,
		Setback:  c.rules.Aquatic.Setback + c.rules.Beyond, Spread: c.rules.Spread, Workers: c.host.Goroutines(),
		KeepDraws: c.rules.Plan.Budget > 0, Put: c.putDraws(),
	})
	c.bands = &bands
	return err
}

// release lists the sources of a stage: the records that touch the zone, and those at most beyond
// outside it.
func (c *computation) release(s drift.Settings, beyond geo.Meters) drift.Released {
	n := 0
	for _, touches := range c.touches {
		n += len(touches)
	}
	released := drift.Released{Stands: len(c.stands), Sources: make([]drift.Source, 0, n), Given: true}
	c.eachSource(s, beyond, func(_ int32, source drift.Source) { released.Sources = append(released.Sources, source) })
	return released
}

// eachSource calls put with each such record and its source.
func (c *computation) eachSource(s drift.Settings, beyond geo.Meters, put func(record int32, source drift.Source)) {
	var room survey.Record
	for i, touches := range c.touches {
		for _, t := range touches {
			if t.InZone || t.Bank <= c.rules.Aquatic.Setback+beyond {
				put(t.Record, drift.Source{Stand: int32(i), Place: t.Place, Amount: s.Release(c.in.Records.Numbers(int(t.Record), &room), c.rules.Stands), Bank: t.Bank})
			}
		}
	}
}

// linked returns the stands that fragments of stand i can reach, in any stage followed, in ascending
// order. flood may be nil.
func linked(d, flood *drift.Drift, i int32) []int32 {
	linked := d.Outcomes[i].Reached
	if flood == nil {
		return linked
	}
	linked = slices.Concat(linked, flood.Outcomes[i].Reached)
	slices.Sort(linked)
	return slices.Compact(linked)
}
