package batch

import (
	"cmp"
	"slices"

	"driftreach/internal/drift"
)

// link finds the nearest links between stands, in all stages followed.
func (c *computation) link() error {
	if !c.links() {
		return nil
	}
	reached := func(i int32) []int32 { return linked(&c.drift, c.flood, i) }
	links := drift.NearestLinks(c.net, c.release(c.rules.Drift, c.rules.Beyond), c.rules.Drift, reached)
	if c.flood != nil {
		links = drift.MergeLinks(links, drift.NearestLinks(c.net, c.release(*c.rules.Flood, c.rules.FloodBeyond), *c.rules.Flood, reached))
	}
	for i := range links {
		links[i].From, links[i].To = c.place[links[i].From], c.place[links[i].To]
	}
	slices.SortFunc(links, func(a, b drift.Link) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	c.run.Links, c.run.Linked = links, true
	return nil
}
