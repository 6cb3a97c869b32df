package result

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/geo/disjoint"
	"driftreach/internal/survey"
)

// LookChange is what a stand counted, in a quarter, among the changes since the last
// look of a row of the summary. The chain keeps them, so that what turns out to have
// been a look-alike can be taken back from the quarters in which it counted.
type LookChange struct {
	StandID      string // as the stand is known now
	Quarter      survey.Quarter
	Scope        Scope
	Name, UnitID string
	Shared       bool           // with stands it was once one with, or with a part that was taken out: its own share is not known
	TakenBack    survey.Quarter // the quarter of the correction that took it back; zero while it counts
	acres        acreages
}

// Infested returns the change of infested acres, in grains.
func (c *LookChange) Infested() int64 { return c.acres[1] }

// Grains returns the changes of live, infested, gross and canopy acres, of those in the
// zone, of treated stands and of standing dead ones.
func (c *LookChange) Grains() [7]int64 {
	a := c.acres
	return [7]int64{a[1] - a[4] - a[5], a[1], a[0], a[2], a[3], a[4], a[5]}
}

// Trace returns the row of a change that is shared, without its acres.
func (c *LookChange) Trace() LookChange {
	out := *c
	out.acres, out.Shared = acreages{}, true
	return out
}

// order sorts changes by everything but their acres.
func (c *LookChange) order(o *LookChange) int {
	return cmp.Or(
		strings.Compare(c.StandID, o.StandID), c.Quarter.Begin().Compare(o.Quarter.Begin()),
		strings.Compare(string(c.Scope), string(o.Scope)), strings.Compare(c.Name, o.Name), strings.Compare(c.UnitID, o.UnitID),
		cmp.Compare(ones(c.Shared), ones(o.Shared)), c.TakenBack.Begin().Compare(o.TakenBack.Begin()),
	)
}

// LookChanges returns the changes of the chain, sorted: those of the quarters before,
// handed on to the stands that continue those they were of, and this quarter's. What
// merges is one stand's from then on. Of what splits, and where several continue
// several, nobody knows which had what: it is shared, and each of them has a row.
func LookChanges(run *Run, before []LookChange) []LookChange {
	if run.Previous == nil {
		return nil
	}
	k := ancestryOf(run)
	var out []LookChange
	for _, c := range before {
		at, is := k.known[c.StandID]
		if !is || !c.TakenBack.IsZero() || k.heir[at] < 0 {
			out = append(out, c)
			continue
		}
		heir := k.heir[at]
		c.StandID, c.Shared = run.Stands[heir].ID, c.Shared || k.several(heir)
		out = append(out, c)
		for _, other := range k.stands[k.set(heir)] {
			if other != heir {
				shared := c.Trace()
				shared.StandID = run.Stands[other].ID
				out = append(out, shared)
			}
		}
	}
	return summed(append(out, k.now()...))
}

// summed sorts changes, adds up those of one stand, quarter and row, and leaves out
// what is none.
func summed(all []LookChange) []LookChange {
	slices.SortStableFunc(all, func(a, b LookChange) int { return a.order(&b) })
	out := all[:0]
	for i := range all {
		if n := len(out); n > 0 && out[n-1].order(&all[i]) == 0 {
			for m, acres := range all[i].acres {
				out[n-1].acres[m] += acres
			}
			continue
		}
		out = append(out, all[i])
	}
	return slices.DeleteFunc(out, func(c LookChange) bool { return !c.Shared && c.acres == acreages{} })
}

// ancestry says which stands continue which.
type ancestry struct {
	run    *Run
	known  map[string]int32  // by id: place among the known stands
	heir   []int32           // by known stand that is linked: the stand that it counts with, else -1
	sets   disjoint.Sets     // the stands behind the known ones, by what links tie together
	stands map[int32][]int32 // by set: its stands
}

func ancestryOf(run *Run) *ancestry {
	p := run.Previous
	k := &ancestry{
		run: run, known: make(map[string]int32, len(p.Known)), heir: slices.Repeat([]int32{-1}, len(p.Known)),
		sets: disjoint.NewSets(len(p.Known) + len(run.Stands)), stands: map[int32][]int32{},
	}
	for at := range p.Known {
		k.known[p.Known[at].ID] = int32(at)
	}
	for _, link := range p.Links {
		k.sets.Union(link.Known, int32(len(p.Known))+link.Stand)
		k.heir[link.Known] = p.Home[link.Known]
	}
	for i := range run.Stands {
		set := k.set(int32(i))
		k.stands[set] = append(k.stands[set], int32(i))
	}
	return k
}

// set is that of the stand at index i.
func (k *ancestry) set(i int32) int32 { return k.sets.Find(int32(len(k.run.Previous.Known)) + i) }

// several says whether the stand at index i is not the only one of its set.
func (k *ancestry) several(i int32) bool { return len(k.stands[k.set(i)]) > 1 }
