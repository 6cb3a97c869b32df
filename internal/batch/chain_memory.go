package batch

import (
	"slices"

	"driftreach/geo/disjoint"
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// family is a set of known stands and the new groups that continue them: a connected component of the
// lineage links.
type family struct {
	known  []int32
	groups []int32
	links  []int // indices of lineage links, by stand, then id
}

// families returns the families in the order of their first link. For each known stand, heirs holds the
// group that keeps its identity, or else the first group that continues it.
func (c *computation) families() (out []family, heirs []int32) {
	known := len(c.in.Previous.Known)
	tied := disjoint.NewSets(known + len(c.lineage.Groups)) // nodes: known stands, then groups
	for _, link := range c.lineage.Links {
		tied.Union(link.Known, int32(known)+link.Stand)
	}
	heirs = slices.Repeat([]int32{-1}, known)
	met, at := make([]bool, len(c.lineage.Groups)), map[int32]int{}
	for i, link := range c.lineage.Links {
		k, there := at[tied.Find(link.Known)]
		if !there {
			k = len(out)
			at[tied.Find(link.Known)], out = k, append(out, family{})
		}
		f := &out[k]
		f.links = append(f.links, i)
		if heirs[link.Known] < 0 {
			f.known = append(f.known, link.Known)
			heirs[link.Known] = link.Stand
		}
		if link.Heir {
			heirs[link.Known] = link.Stand
		}
		if !met[link.Stand] {
			met[link.Stand] = true
			f.groups = append(f.groups, link.Stand)
		}
	}
	return out, heirs
}

// remember matches acres found now with acres earlier reported as not detected in the same stands, each
// acre once. A survey that missed plants then leaves no false cleared or new acres. It also passes on
// what the chain remembers of each stand.
func (c *computation) remember() {
	known := c.in.Previous.Known
	families, heirs := c.families()
	for _, f := range families {
		c.findAgain(f, heirs)
		c.everOf(f, heirs)
	}
	for at := range c.ancestry {
		k := &c.ancestry[at]
		all := k.parts.Own + k.parts.Carried
		switch {
		case len(k.parents) == 0:
			k.memory.Ever = all
		case at >= len(c.lineage.Groups): // nothing of the stand was found
			before := &known[k.parents[0]]
			k.memory = before.Memory
			k.memory.Missing += before.InfestedAcres() - all
		}
	}
}

// findAgain counts acres as found again. These are the acres that a family has more than before, on
// ground surveyed before, up to the acres reported as not detected. For a stand that was not detected
// at all the chain keeps its outline, and acres outside it do not count. For a stand that was found in
// part the missing ground is not kept, so only acres are compared.
func (c *computation) findAgain(f family, heirs []int32) {
	known := c.in.Previous.Known
	more, missing := int64(0), map[int32]int64{}
	for _, k := range f.known {
		missing[k] = known[k].Memory.Missing
		if !known[k].Absent {
			more -= known[k].InfestedAcres()
		}
	}
	for _, g := range f.groups {
		p := &c.ancestry[g].parts
		more += p.Own + p.Carried - p.FirstLooked
	}
	for _, i := range f.links {
		link := &c.lineage.Links[i]
		p := &c.ancestry[link.Stand].parts
		again := max(0, min(missing[link.Known], more, p.Own-p.FirstLooked-p.FoundAgain, c.onItsGround(link, p.Own)))
		p.FoundAgain += again
		missing[link.Known] -= again
		more -= again
	}
	for _, k := range f.known {
		c.ancestry[heirs[k]].memory.Missing += missing[k]
	}
}

// onItsGround returns the most acres of a link's stand that can count as found again for the known
// stand. own is the stand's own acres, in grains.
func (c *computation) onItsGround(link *lineage.Link, own int64) int64 {
	before := &c.in.Previous.Known[link.Known]
	if !before.Absent || before.Memory.Missing == 0 {
		return own
	}
	share := before.ShareOn(c.stands[link.Stand].Footprint, c.rules.Lineage)
	if share == 1 {
		return own
	}
	byAcres := max(0, before.Memory.Missing-before.InfestedAcres())
	return int64(share*float64(own)) + byAcres
}

// everOf passes on the most acres that a family ever had. Each group gets its present acres; the rest
// goes to the heir of the largest known stand.
func (c *computation) everOf(f family, heirs []int32) {
	known := c.in.Previous.Known
	ever, largest := int64(0), f.known[0]
	for _, k := range f.known {
		ever += known[k].Memory.Ever
		if known[k].Memory.Ever > known[largest].Memory.Ever {
			largest = k
		}
	}
	for _, g := range f.groups {
		k := &c.ancestry[g]
		now := k.parts.Own + k.parts.Carried
		k.memory.Ever = now
		ever += k.parts.FirstLooked - now
		k.memory.Lost = c.lostAgain(g)
	}
	c.ancestry[heirs[largest]].memory.Ever += max(0, ever)
}

// lostAgain says whether a live group continues a stand that was not detected, or one for which this
// was true before.
func (c *computation) lostAgain(g int32) bool {
	if s := c.stands[g].Status; s == survey.Treated || s == survey.StandingDead {
		return false
	}
	for _, k := range c.ancestry[g].parents {
		if before := &c.in.Previous.Known[k]; before.Absent || before.Memory.Lost {
			return true
		}
	}
	return false
}
