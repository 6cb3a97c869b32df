package batch

import (
	"driftreach/geo/flow"
	"driftreach/geo/parallel"
	"driftreach/internal/drift"
	"driftreach/internal/notice"
)

// notify finds the planned works whose owners must be notified, using the batch's first water stage.
func (c *computation) notify() error {
	works := c.in.Works
	c.run.WorksGiven, c.run.Works = true, works
	places := make([][]flow.Place, len(works))
	c.worksAt = places
	err := parallel.Each(c.ctx, len(works), c.host.Goroutines(), func(i int) {
		places[i] = c.water.Touching(works[i].Paths(), works[i].Areas)
	})
	if err != nil {
		return err
	}
	site := notice.Site{
		Quarter: c.in.Quarter, Stands: c.stands, Treat: c.numbers, Works: works,
		AtWater: make([]bool, len(works)), Onward: make([]drift.Onward, len(works)),
	}
	for i := range works {
		site.AtWater[i] = len(places[i]) > 0
	}
	site.Onward = c.drift.Onward(c.net, c.rules.Drift, places)
	c.run.Notices = notice.Find(site, c.rules.Notice, c.host.Goroutines())
	for i := range c.run.Notices {
		c.run.Notices[i].Stand = c.place[c.run.Notices[i].Stand]
	}
	return nil
}
