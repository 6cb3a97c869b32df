package batch

import (
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// family is known stands and the groups that go on from them, all that links tie
// together.
type family struct {
	known  []int32
	groups []int32
	links  []int // into the lineage's, by stand, then id
}

// families returns them in the order of their first link.
func (c *computation) families() []family {
	of := make([]int, len(c.in.Previous.Known)) // by known stand: its family, from 1
	byGroup := make([]int, len(c.lineage.Groups))
	root := []int{0}
	find := func(i int) int {
		for root[i] != i {
			i = root[i]
		}
		return i
	}
	for _, link := range c.lineage.Links {
		a, b := find(of[link.Known]), find(byGroup[link.Stand])
		switch {
		case a == 0 && b == 0:
			a = len(root)
			root = append(root, a)
		case a == 0 || b == 0:
			a = max(a, b)
		default:
			a, b = min(a, b), max(a, b)
			root[b] = a
		}
		of[link.Known], byGroup[link.Stand] = a, a
	}
	var out []family
	at := map[int]int{}
	for i, link := range c.lineage.Links {
		r := find(of[link.Known])
		k, there := at[r]
		if !there {
			k = len(out)
			at[r], out = k, append(out, family{})
		}
		out[k].links = append(out[k].links, i)
	}
	knownSeen, groupSeen := make([]bool, len(of)), make([]bool, len(byGroup))
	for k := range out {
		for _, i := range out[k].links {
			link := &c.lineage.Links[i]
			if !knownSeen[link.Known] {
				knownSeen[link.Known] = true
				out[k].known = append(out[k].known, link.Known)
			}
			if !groupSeen[link.Stand] {
				groupSeen[link.Stand] = true
				out[k].groups = append(out[k].groups, link.Stand)
			}
		}
	}
	return out
}

// remember pairs what is found with what was told not detected of the same stands,
// once, so that a missed look leaves neither cleared nor new acres behind, and hands
// on what the chain remembers of each stand.
func (c *computation) remember() {
	known := c.in.Previous.Known
	for _, f := range c.families() {
		c.findAgain(f)
		c.everOf(f)
	}
	for at := range c.kin {
		k := &c.kin[at]
		all := k.parts.Own + k.parts.Carried
		switch {
		case len(k.parents) == 0:
			k.memory.Ever = all
		case at >= len(c.lineage.Groups): // nothing of it was found
			before := &known[k.parents[0]]
			k.memory = before.Memory
			k.memory.Missing += before.InfestedAcres() - all
		}
	}
}

// findAgain counts as found again what a family's stands have more than before, on
// ground looked at before, up to what was told not detected of them.
func (c *computation) findAgain(f family) {
	known := c.in.Previous.Known
	more, missing := int64(0), map[int32]int64{}
	for _, k := range f.known {
		missing[k] = known[k].Memory.Missing
		if !known[k].Absent {
			more -= known[k].InfestedAcres()
		}
	}
	for _, g := range f.groups {
		p := &c.kin[g].parts
		more += p.Own + p.Carried - p.FirstLooked
	}
	for _, i := range f.links {
		link := &c.lineage.Links[i]
		p := &c.kin[link.Stand].parts
		again := max(0, min(missing[link.Known], more, p.Own-p.FirstLooked-p.FoundAgain))
		p.FoundAgain += again
		missing[link.Known] -= again
		more -= again
	}
	for _, k := range f.known {
		c.kin[c.heir(f, k)].memory.Missing += missing[k]
	}
}

// heir returns the group that goes on under a known stand's identity, else the first
// that goes on from it.
func (c *computation) heir(f family, k int32) int32 {
	first := int32(-1)
	for _, i := range f.links {
		link := &c.lineage.Links[i]
		switch {
		case link.Known != k:
		case link.Heir:
			return link.Stand
		case first < 0:
			first = link.Stand
		}
	}
	return first
}

// everOf hands on the most acres that a family's stands ever had: each group's own
// now, and what is more than that to the heir of the largest.
func (c *computation) everOf(f family) {
	known := c.in.Previous.Known
	ever, largest := int64(0), f.known[0]
	for _, k := range f.known {
		ever += known[k].Memory.Ever
		if known[k].Memory.Ever > known[largest].Memory.Ever {
			largest = k
		}
	}
	for _, g := range f.groups {
		k := &c.kin[g]
		now := k.parts.Own + k.parts.Carried
		k.memory.Ever = now
		ever += k.parts.FirstLooked - now
		k.memory.Lost = c.lostAgain(g)
	}
	c.kin[c.heir(f, largest)].memory.Ever += max(0, ever)
}

// lostAgain says whether a group is live and goes on from a stand that was not
// detected, or from one that was lost again before.
func (c *computation) lostAgain(g int32) bool {
	if s := c.stands[g].Status; s == survey.Treated || s == survey.StandingDead {
		return false
	}
	for _, k := range c.kin[g].parents {
		if before := &c.in.Previous.Known[k]; before.Absent || before.Memory.Lost {
			return true
		}
	}
	return false
}

// memoryOfGone is what is remembered of a known stand that is not on the map.
func (c *computation) memoryOfGone(k int) lineage.Memory {
	known := &c.in.Previous.Known[k]
	m := known.Memory
	m.Lost = false
	if !known.Absent {
		m.Missing += known.InfestedAcres()
	}
	return m
}
