package batch

import (
	"driftreach/geo/parallel"
	"driftreach/internal/margin"
	"driftreach/internal/survey"
)

// doubt estimates the acreage error of every stand. It does the same for the stands of the previous
// batch under the present rules, so that the error of the change can be computed.
func (c *computation) doubt() error {
	causes := margin.NewCauses()
	now := margin.Survey{Records: c.in.Records, Rules: c.rules.Stands, Settings: c.rules.Margin}
	now.Observers = causes.Of(now.Records, c.quarterOf)
	c.causes = causes
	if before := c.in.Previous; before != nil {
		then := margin.Survey{Records: before.Records, Rules: c.rules.Stands, Settings: c.rules.Margin}
		then.Observers = causes.Of(then.Records, func(i int) survey.Quarter { return before.From[i] })
		now.Own, then.Own = c.ownOf(causes)
		c.known = make([]margin.Form, len(before.Known))
		err := parallel.Each(c.ctx, len(c.known), c.host.Goroutines(), func(k int) {
			if !before.Known[k].Absent {
				c.known[k] = then.Infested(&before.Known[k].Stand)
			}
		})
		if err != nil {
			return err
		}
	}
	c.margins = make([]margin.Stand, len(c.stands))
	return parallel.Each(c.ctx, len(c.stands), c.host.Goroutines(), func(i int) { c.margins[i] = now.Of(&c.stands[i]) })
}

// quarterOf returns the quarter in which a record was surveyed.
func (c *computation) quarterOf(i int) survey.Quarter {
	if c.from != nil && !c.from[i].IsZero() {
		return c.from[i]
	}
	return c.in.Quarter
}

// ownOf numbers the errors of carried records. Such an error is the same in the previous batch and now,
// so it cancels in the change.
func (c *computation) ownOf(causes *margin.Causes) (now, then []int32) {
	var carried []int32
	for i, k := range c.copyOf {
		if k >= 0 {
			carried = append(carried, int32(i))
		}
	}
	now = causes.OwnOf(len(c.in.Records), carried, c.quarterOf)
	then = make([]int32, len(c.in.Previous.Records))
	for _, i := range carried {
		then[c.copyOf[i]] = now[i]
	}
	return now, then
}
