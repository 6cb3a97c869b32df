package lineage

import (
	"math"
	"slices"

	"driftreach/geo"
)

// Outcome is the state of a group of mapped stands after carried ground was added.
type Outcome struct {
	Infested geo.SquareMeters
	Carried  bool // some of its ground is carried
	Unknown  bool // most of its own ground had never been surveyed before in the chain of batches
}

// Judge returns the change of each group, in a word.
func (l *Lineage) Judge(known []Known, outcomes []Outcome, s Settings) []Change {
	children := make([]int, len(known))
	for _, link := range l.Links {
		children[link.Known]++
	}
	out := make([]Change, len(l.Groups))
	for i := range out {
		if out[i] = New; outcomes[i].Unknown {
			out[i] = FirstLookedAt
		}
	}
	for first := 0; first < len(l.Links); {
		last := first + 1
		for last < len(l.Links) && l.Links[last].Stand == l.Links[first].Stand {
			last++
		}
		at := l.Links[first].Stand
		out[at] = changeOf(known, l.Links[first:last], children, outcomes[at], s)
		first = last
	}
	return out
}

// changeOf returns the change of a group with at least one link.
func changeOf(known []Known, links []Link, children []int, now Outcome, s Settings) Change {
	split := slices.ContainsFunc(links, func(link Link) bool { return children[link.Known] > 1 })
	before := &known[links[0].Known]
	change := now.Infested - before.Infested
	switch {
	case len(links) > 1 && split:
		return MergedAndSplit
	case len(links) > 1:
		return Merged
	case split:
		return Split
	case before.Absent:
		return FoundAgain
	case now.Carried:
		return PartlyResurveyed
	case math.Abs(float64(change)) <= s.KeptWithin*float64(before.Infested):
		return Kept
	case change > 0:
		return Grown
	}
	return Shrunk
}
