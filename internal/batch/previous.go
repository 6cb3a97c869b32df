package batch

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/internal/lineage"
	"driftreach/internal/result"
)

// addPrevious adds the previous batch's result.
func (c *computation) addPrevious() {
	before := c.in.Previous
	if before == nil {
		return
	}
	links := c.lineage.Links
	for i := range links {
		links[i].Stand = c.place[links[i].Stand]
	}
	slices.SortFunc(links, func(a, b lineage.Link) int {
		return cmp.Or(cmp.Compare(a.Known, b.Known), strings.Compare(c.run.Stands[a.Stand].ID, c.run.Stands[b.Stand].ID))
	})
	c.run.Previous = &result.Previous{
		Quarter: before.Quarter, Known: before.Known, Then: before.Then, Looks: c.lineage.Looks, Links: links, Fates: c.lineage.Fates,
		Restated: c.restated(), Home: c.homes(links), ReachApart: before.ReachApart,
		Margins: c.known,
	}
	c.run.CarriedFrom = c.from
	c.run.History, c.run.EverBefore = before.History, before.Ever
	for k, fate := range c.lineage.Fates {
		known := before.Known[k]
		if fate == "" || known.Out != "" || fate.Stays() && !known.Absent {
			continue
		}
		if !known.Absent {
			known.Absent, known.Since = true, c.in.Quarter
		}
		known.Members, known.Memory = nil, c.memoryOfGone(k)
		c.run.Absent = append(c.run.Absent, result.Absent{Known: known, Looked: fate == lineage.NotDetected})
	}
}

// restated returns the infested acres of each stand of the previous batch under the present rules, in
// grains; 0 if it was not detected.
func (c *computation) restated() []int64 {
	out := make([]int64, len(c.in.Previous.Known))
	for k := range out {
		if known := &c.in.Previous.Known[k]; !known.Absent {
			out[k] = known.InfestedAcres()
		}
	}
	return out
}

// homes returns, by known stand, the stand that keeps its identity, or else one that continues it, as
// an index in the result; -1 for none.
func (c *computation) homes(links []lineage.Link) []int32 {
	out := make([]int32, len(c.in.Previous.Known))
	for k := range out {
		out[k] = -1
	}
	for _, link := range links {
		if link.Heir || out[link.Known] < 0 {
			out[link.Known] = link.Stand
		}
	}
	for i := range c.run.Stands {
		if s := &c.run.Stands[i]; s.Carried() {
			out[s.Parents[0]] = int32(i)
		}
	}
	return out
}

// memoryOfGone returns what the chain remembers of a known stand that is no longer on the map.
func (c *computation) memoryOfGone(k int) lineage.Memory {
	known := &c.in.Previous.Known[k]
	m := known.Memory
	m.Lost = false
	if !known.Absent {
		m.Missing += known.InfestedAcres()
	}
	return m
}
