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
	now := margin.Survey{Records: c.in.Records.Listed, Rules: c.rules.Stands, Settings: c.rules.Margin}
	now.Observers = causes.Of(c.in.Records, c.quarterOf)
	c.nameReady(now.Observers)
	c.causes = causes
	if before := c.in.Previous; before != nil {
		then := margin.Survey{Records: before.Records, Rules: c.rules.Stands, Settings: c.rules.Margin}
		then.Observers = causes.Of(survey.Records{Listed: then.Records}, func(i int) survey.Quarter { return before.From[i] })
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
	if c.ready != nil && c.ancestry == nil {
		c.margins, c.ready = c.ready, nil
		return nil
	}
	c.margins = make([]margin.Stand, len(c.stands))
	defer func() { c.ready = nil }()
	return parallel.Each(c.ctx, len(c.stands), c.host.Goroutines(), func(i int) {
		if c.ready != nil && c.ancestry[i].mapped >= 0 {
			c.margins[i] = c.ready[c.ancestry[i].mapped]
			return
		}
		c.margins[i] = c.marginOf(&c.stands[i], now)
	})
}

// ownSurvey is this quarter's own records, with errors of observers numbered by a record, before the
// stands of earlier batches are known.
func (c *computation) ownSurvey() *margin.Survey {
	first := margin.FirstOf(c.in.Records.Listed)
	return &margin.Survey{Records: c.in.Records.Listed, Rules: c.rules.Stands, Settings: c.rules.Margin, Observers: margin.ByRecord(first)}
}

// nameReady gives the errors of observers in ready their number among all causes.
func (c *computation) nameReady(observers []int32) {
	if c.ready == nil {
		return
	}
	at := make([]int32, 0, len(observers)) // by record of this quarter: its place among all
	for i := range observers {
		if c.copyOf == nil || c.copyOf[i] < 0 {
			at = append(at, int32(i))
		}
	}
	for i := range c.ready {
		c.ready[i].Named(func(record int32) int32 { return observers[at[record]] })
	}
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
	now = causes.OwnOf(c.in.Records.Len(), carried, c.quarterOf)
	then = make([]int32, len(c.in.Previous.Records))
	for _, i := range carried {
		then[c.copyOf[i]] = now[i]
	}
	return now, then
}
