package lineage

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Now is what was mapped in a quarter, and who went where.
type Now struct {
	Quarter survey.Quarter
	Stands  []stand.Stand // as stand.Map returns them
	Visits  []Visit       // by known stand
}

// Trace returns what became of the known stands, by up to workers goroutines with
// the same answer for any number. Known stands are sorted by id and of quarters before now. Cost is that of a search among the
// known stands for each mapped one, and of the pairs of footprint edges that meet.
func Trace(known []Known, now Now, s Settings, workers int) Lineage {
	l := newLinker(known, now.Stands, s, workers)
	links := l.byDistance(l.byGround())
	slices.SortFunc(links, l.byClaim)
	out := Lineage{IDs: make([]string, len(now.Stands)), Changes: make([]Change, len(now.Stands)), Fates: make([]Change, len(known))}
	taken := make([]bool, len(known))
	for i := range links {
		link := &links[i]
		if !taken[link.Known] && out.IDs[link.Stand] == "" {
			taken[link.Known], link.Heir = true, true
			out.IDs[link.Stand] = known[link.Known].ID
		}
	}
	next := 0
	for i := range out.IDs {
		if out.IDs[i] == "" {
			next++
			out.IDs[i] = stand.ID(now.Quarter, next)
		}
	}
	slices.SortFunc(links, func(a, b Link) int {
		return cmp.Or(cmp.Compare(a.Stand, b.Stand), strings.Compare(known[a.Known].ID, known[b.Known].ID))
	})
	out.Links = links
	out.judge(known, now, s)
	return out
}

// judge puts each stand's change and each known stand's fate into a word.
func (l *Lineage) judge(known []Known, now Now, s Settings) {
	children := make([]int, len(known))
	for _, link := range l.Links {
		children[link.Known]++
	}
	for first := 0; first < len(l.Links); {
		last := first + 1
		for last < len(l.Links) && l.Links[last].Stand == l.Links[first].Stand {
			last++
		}
		at := l.Links[first].Stand
		l.Changes[at] = changeOf(known, l.Links[first:last], children, now.Stands[at], s)
		first = last
	}
	for i := range l.Changes {
		if l.Changes[i] == "" {
			l.Changes[i] = New
		}
	}
	for k := range known {
		switch {
		case children[k] > 0:
		case now.Visits[k].Looked:
			l.Fates[k] = NotDetected
		default:
			l.Fates[k] = NotResurveyed
		}
	}
}

// changeOf returns the change of a stand with the given links, at least one.
func changeOf(known []Known, links []Link, children []int, now stand.Stand, s Settings) Change {
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
	case math.Abs(float64(change)) <= s.KeptWithin*float64(before.Infested):
		return Kept
	case change > 0:
		return Grown
	}
	return Shrunk
}
