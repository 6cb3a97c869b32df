package learn

import (
	"context"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// Answer is what was estimated from a chain of batches.
type Answer struct {
	Quarters []survey.Quarter
	Options  Options
	Km       geo.Kilometers // length of stream
	Risk     Risk
	Distance Distance
	Treated  Treated
	Found    Found
	Growth   Growth
	Labour   []Labour
	Lines    []Line // drawn on the page's map
}

// Ask computes all answers from a chain. The same chain, second looks and options give the same
// answer.
func (c *Chain) Ask(ctx context.Context, second []SecondLook, o Options, workers int) (*Answer, error) {
	a := &Answer{Options: o, Km: c.Km()}
	for i := range c.Batches {
		a.Quarters = append(a.Quarters, c.Batches[i].Quarter)
	}
	now := c.Batches[len(c.Batches)-1].Rules.Drift
	looks := c.looks()
	arrivals := c.newStands(looks, o)
	a.Risk = c.risk(looks, arrivals, now)
	var err error
	if a.Distance, err = c.distance(ctx, looks, arrivals, now, o, workers); err != nil {
		return nil, err
	}
	histories := c.histories()
	a.Treated, a.Growth, a.Labour = treated(histories, o), grown(histories), labour(histories)
	a.Found = c.found(second, o)
	a.Lines = c.lines()
	return a, nil
}

// lines returns every stream, and the reaches at risk in the last batch but one.
func (c *Chain) lines() []Line {
	var out []Line
	for _, path := range c.Net.Paths.All() {
		out = append(out, Line{path, "water"})
	}
	b := &c.Batches[max(0, len(c.Batches)-2)]
	for _, r := range b.drift.Reaches {
		if r.Class.AtRisk() {
			out = append(out, Line{r.Path, classNames[r.Class+1]})
		}
	}
	return out
}

// Line is a stretch of stream on the page's map.
type Line struct {
	Path  orb.LineString
	Class string // water, low, moderate or high
}
