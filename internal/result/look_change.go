package result

import (
	"cmp"
	"slices"
	"strings"
)

// Grains returns the changes, in grains, of live, infested, gross, canopy and zone acres, and of the
// acres of treated and of standing dead stands.
func (c *LookChange) Grains() [7]int64 {
	a := c.acres
	return [7]int64{a[1] - a[4] - a[5], a[1], a[0], a[2], a[3], a[4], a[5]}
}

// Trace returns a shared copy of the row, without its acres.
func (c *LookChange) Trace() LookChange {
	out := *c
	out.acres, out.Shared = acreages{}, true
	return out
}

// order compares changes by everything but their acres.
func (c *LookChange) order(o *LookChange) int {
	return cmp.Or(
		strings.Compare(c.StandID, o.StandID), c.Quarter.Begin().Compare(o.Quarter.Begin()),
		strings.Compare(string(c.Scope), string(o.Scope)), strings.Compare(c.Name, o.Name), strings.Compare(c.UnitID, o.UnitID),
		cmp.Compare(ones(c.Shared), ones(o.Shared)), c.TakenBack.Begin().Compare(o.TakenBack.Begin()),
	)
}

// LookChanges returns the changes of the chain, sorted: those of earlier quarters and this quarter's.
// An earlier change moves to the stand that continues its stand. If stands merge, the merged stand has
// all their changes. If a stand splits, or several continue several, it is not known which change
// belongs to which; then the change is shared, and each of the stands has a row for it.
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

// summed sorts changes, adds up those of the same stand, quarter and row, and removes rows that are 0
// and not shared.
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
