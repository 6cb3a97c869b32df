package batch

import (
	"testing"

	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/unit"
)

// TestLetGo: a batch keeps what a stage to come asks for, and nothing else. The stages ask: links for
// touches and drift; a plan for all; works for water and drift; units and work at the water for water;
// where to look next for water and drift.
func TestLetGo(t *testing.T) {
	type kept struct{ water, touches, divided, drift, stands bool }
	all := kept{true, true, true, true, true}
	for name, c := range map[string]struct {
		stands int
		set    func(c *computation)
		want   kept
	}{
		"few stands":         {mapfile.MostUnasked, func(*computation) {}, kept{water: true, touches: true, drift: true, stands: true}},
		"many":               {mapfile.MostUnasked + 1, func(*computation) {}, kept{}},
		"many, with a plan":  {mapfile.MostUnasked + 1, func(c *computation) { c.rules.Plan.Budget = 1 }, all},
		"many, with works":   {mapfile.MostUnasked + 1, func(c *computation) { c.in.WorksGiven = true }, kept{water: true, drift: true, stands: true}},
		"many, with units":   {mapfile.MostUnasked + 1, func(c *computation) { c.in.Units = make([]unit.Unit, 1) }, kept{water: true, stands: true}},
		"many, at the water": {mapfile.MostUnasked + 1, func(c *computation) { c.atWater.Write = "always" }, kept{water: true, stands: true}},
		"many, look next":    {mapfile.MostUnasked + 1, func(c *computation) { c.wanted.Write = "always" }, kept{water: true, drift: true, stands: true}},
		"few, none written":  {1, func(c *computation) { c.wanted.Write, c.atWater.Write = "never", "never" }, kept{touches: true, drift: true, stands: true}},
	} {
		s := settings.Default()
		one := computation{
			stands: make([]stand.Stand, c.stands), count: c.stands, water: &aquatic.Water{}, touches: make([][]aquatic.Touch, 1),
			drift: drift.Drift{Outcomes: make([]drift.Outcome, 1)}, wanted: s.SurveyNext, atWater: s.WaterWork, worksAt: [][]flow.Place{},
		}
		one.divided = divided{Drift: one.drift}
		c.set(&one)
		one.letGo()
		if got := (kept{one.water != nil, one.touches != nil, one.divided.Outcomes != nil, one.drift.Outcomes != nil, one.stands != nil}); got != c.want {
			t.Errorf("%s: kept %+v, want %+v", name, got, c.want)
		}
	}
}

// TestTouchesDone: the touches are kept for the links of few stands, for a plan, and for the rest of a
// stand that is treated in part.
func TestTouchesDone(t *testing.T) {
	for name, c := range map[string]struct {
		stands int
		set    func(c *computation)
		want   bool
	}{
		"few stands":               {mapfile.MostUnasked, func(*computation) {}, false},
		"many":                     {mapfile.MostUnasked + 1, func(*computation) {}, true},
		"many, with a plan":        {mapfile.MostUnasked + 1, func(c *computation) { c.rules.Plan.Budget = 1 }, false},
		"many, none in part":       {mapfile.MostUnasked + 1, func(c *computation) { c.treatedAt = []int32{-1, -1} }, true},
		"many, the second in part": {mapfile.MostUnasked + 1, func(c *computation) { c.treatedAt = []int32{-1, 2} }, false},
	} {
		one := computation{count: c.stands}
		c.set(&one)
		if got := one.touchesDone(); got != c.want {
			t.Errorf("%s: %t", name, got)
		}
	}
}
