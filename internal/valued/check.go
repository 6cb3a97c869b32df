package valued

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// Options says how Check reports.
type Options struct {
	FindingLimit int // as check.Log.Limit
}

// Check checks the places of one batch, from all its files. It rejects those without a usable
// position or with a weight below 0, sets a missing weight to 1, makes longitudes continuous, makes
// missing ids from file and row, and makes repeated ids unique. It returns the accepted places by
// id. The result depends on the set of places, not on their order. It changes and reuses the given
// slice and its geometry. It takes n log n time.
func Check(places []Place, o Options) ([]Place, []check.Finding) {
	c := checker{check.Checker[Place]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}}
	return c.Unify(c.Accept(places, c.accept)), c.Findings()
}

type checker struct{ check.Checker[Place] }

// accept checks one place; false means rejected.
func (c *checker) accept(p *Place) bool {
	paths := p.Paths()
	if !check.Placed(&c.Checker, p, paths) {
		return false
	}
	if !slices.ContainsFunc(paths, func(path orb.LineString) bool { return len(path) > 0 }) {
		c.Report(p, ruleEmpty, "geometry", "", "the place has no position; it was rejected")
		return false
	}
	switch {
	case p.Weight < 0:
		c.Report(p, ruleWeight, "weight", check.Number(p.Weight), "a weight is 0 or more; the place was rejected")
		return false
	case math.IsNaN(p.Weight):
		c.Report(p, ruleNoWeight, "weight", "", "the place has no weight; it counts 1")
		p.Weight = 1
	}
	for i := range p.Points {
		p.Points[i][0] = earth.Turned(p.Points[i][0])
	}
	for _, line := range p.Lines {
		earth.RunOn(line, line[0][0])
	}
	earth.RunOnAreas(p.Areas)
	return true
}
