package lineage

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/geo/disjoint"
	"driftreach/geo/earth"
	"driftreach/internal/stand"
)

// Trace returns what became of the known stands, using the given number of workers; the result is
// the same for any number. Known stands must be sorted by id and come from quarters before now;
// records must be sorted by id. For each mapped stand it searches the known stands and compares the
// footprint edges that meet; for each known record it searches the surveyed ground and records
// around it.
func Trace(before Before, now Now, e Evidence, s Settings, workers int) Lineage {
	links := newLinker(before, now, s, workers).all()
	children := make([][]int32, len(before.Known))
	for _, link := range links {
		children[link.Known] = append(children[link.Known], link.Stand)
	}
	w := newWitness(before, now, e, s)
	out := Lineage{Looks: make([]Look, len(before.Known)), Fates: make([]Change, len(before.Known))}
	inSpans(len(before.Known), workers, func(k int) { out.Looks[k] = w.look(&before.Known[k], children[k]) })
	for k := range before.Known {
		if len(children[k]) == 0 {
			out.Fates[k] = before.Known[k].Out
		}
		if len(children[k]) == 0 && out.Fates[k] == "" {
			out.Fates[k] = fateOf(&before.Known[k], &out.Looks[k], s)
		}
	}
	out.group(w, links, children)
	out.name(before.Known, now)
	return out
}

// fateOf returns what became of a known stand of which nothing was found.
func fateOf(known *Known, look *Look, s Settings) Change {
	switch {
	case 1-look.Share <= s.UnseenShare:
		return NotDetected
	case look.Share > 0 && !known.Absent:
		return PartlyNotDetected
	}
	return NotResurveyed
}

// group puts mapped stands into one group when carried ground of a known stand lies between them,
// and turns links to stands into links to groups.
func (l *Lineage) group(w *witness, links []Link, children [][]int32) {
	tied := disjoint.NewSets(len(w.now.Stands))
	unite := func(all []int32) {
		for _, i := range all[min(1, len(all)):] {
			tied.Union(all[0], i)
		}
	}
	for k := range w.before.Known {
		if len(w.before.Known[k].Same) > 0 {
			unite(children[k])
		}
	}
	keeps := make([]int32, len(w.before.Known)) // by known stand: the mapped stand that takes its carried ground
	for k := range keeps {
		if keeps[k] = -1; len(children[k]) == 0 || len(l.Looks[k].Left) == 0 {
			continue
		}
		beside := w.beside(&w.before.Known[k], l.Looks[k].Left, children[k])
		if len(beside) == 0 {
			beside = children[k][:1] // the first in the order of claims
		}
		keeps[k] = beside[0]
		unite(beside)
	}
	at := make([]int32, len(tied))
	for i := range tied {
		if r := tied.Find(int32(i)); r == int32(i) {
			at[i] = int32(len(l.Groups))
			l.Groups = append(l.Groups, []int32{int32(i)})
		} else {
			at[i] = at[r]
			l.Groups[at[i]] = append(l.Groups[at[i]], int32(i))
		}
	}
	l.Carried = make([][]int32, len(l.Groups))
	for k, i := range keeps {
		if i >= 0 {
			l.Carried[at[i]] = append(l.Carried[at[i]], int32(k))
		}
	}
	l.Links = joined(links, at)
}

// joined turns links to stands into links to groups, merging links of the same pair. The order of
// claims is kept.
func joined(links []Link, at []int32) []Link {
	type pair struct{ known, stand int32 }
	place := map[pair]int{}
	var out []Link
	for _, link := range links {
		link.Stand = at[link.Stand]
		key := pair{link.Known, link.Stand}
		if i, there := place[key]; there {
			out[i].Shared += link.Shared
			continue
		}
		place[key] = len(out)
		out = append(out, link)
	}
	return out
}

// beside returns those of some mapped stands that have a find within the join distance of ground
// left unseen.
func (w *witness) beside(known *Known, left []Left, of []int32) []int32 {
	if len(of) == 1 {
		return of
	}
	frame, near := earth.NewFrame(known.Center), map[int32]bool{}
	for _, l := range left {
		at := w.before.Records[l.Record].Position
		xy := frame.Forward(at)
		w.finds.about(at, w.settings.JoinDistance, func(f int32) bool {
			i := w.standOf[f]
			if slices.Contains(of, i) && !near[i] && geo.Distance(xy, frame.Forward(w.now.Records[f].Position)) <= w.settings.JoinDistance {
				near[i] = true
			}
			return len(near) < len(of)
		})
	}
	return slices.DeleteFunc(slices.Clone(of), func(i int32) bool { return !near[i] })
}

// name passes on identities along the links, which must be in the order of claims.
func (l *Lineage) name(known []Known, now Now) {
	l.IDs = make([]string, len(l.Groups))
	taken := make([]bool, len(known))
	for i := range l.Links {
		link := &l.Links[i]
		if !taken[link.Known] && l.IDs[link.Stand] == "" {
			taken[link.Known], link.Heir = true, true
			l.IDs[link.Stand] = known[link.Known].ID
		}
	}
	next := now.Given
	for i := range l.IDs {
		if l.IDs[i] == "" {
			next++
			l.IDs[i] = stand.ID(now.Quarter, next)
		}
	}
	slices.SortFunc(l.Links, func(a, b Link) int {
		return cmp.Or(cmp.Compare(a.Stand, b.Stand), strings.Compare(known[a.Known].ID, known[b.Known].ID))
	})
}
