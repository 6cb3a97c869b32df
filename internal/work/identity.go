package work

import (
	"cmp"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
)

// unify sorts the works by id and makes the ids unique: of exact copies one
// stays; of different works with one id the first by content keeps it and the
// others get "~2", "~3".
func (c *checker) unify(works []Work, made map[string]bool) []Work {
	slices.SortFunc(works, func(a, b Work) int { return compare(&a, &b) })
	taken := map[string]int{}
	for i := range works {
		taken[works[i].ID] = 2
	}
	kept := make([]Work, 0, len(works))
	first := 0 // the first work in works of the id at hand
	for i := range works {
		w := works[i]
		if works[first].ID != w.ID {
			first = i
		}
		if i > first {
			if !made[w.ID] && compareContent(&works[i-1], &w) == 0 {
				c.report(&w, ruleDuplicate, "", "", "the work is there twice, the same in every field; the copy was rejected")
				continue
			}
			fresh := check.FreeID(w.ID, taken)
			if !made[w.ID] {
				c.report(&w, ruleSameID, "work_id", w.ID, "another work has the same id; this one is now "+fresh)
			}
			w.ID = fresh
		}
		kept = append(kept, w)
	}
	slices.SortFunc(kept, func(a, b Work) int { return compare(&a, &b) })
	return kept
}

// compare orders works by id, then content, then file and row, which tell only
// exact copies apart.
func compare(a, b *Work) int {
	return cmp.Or(strings.Compare(a.ID, b.ID), compareContent(a, b), strings.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
}

// compareContent orders works by everything they say, file, row and id apart.
func compareContent(a, b *Work) int {
	return cmp.Or(
		strings.Compare(a.Kind, b.Kind), a.Start.Compare(b.Start), a.End.Compare(b.End), strings.Compare(a.Contact, b.Contact),
		slices.CompareFunc(a.Paths(), b.Paths(), func(x, y orb.LineString) int { return slices.CompareFunc(x, y, geo.ComparePoints) }),
	)
}
