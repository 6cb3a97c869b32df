package unit

import (
	"cmp"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// unify sorts the units by id and makes the ids unique: of exact copies one
// stays; features of one id and name become one unit; of different names under
// one id the first keeps it and the others get "~2", "~3".
func (c *checker) unify(features []Unit, made map[string]bool) []Unit {
	slices.SortFunc(features, func(a, b Unit) int { return compare(&a, &b) })
	taken := map[string]int{}
	for i := range features {
		taken[features[i].ID] = 2
	}
	kept := make([]Unit, 0, len(features))
	parts := map[int][]orb.MultiPolygon{} // of the units kept that have several
	keep := func(u Unit) { kept = append(kept, u) }
	id := "" // the id of the features at hand, before any was renamed
	for i := range features {
		u := features[i]
		again := i > 0 && u.ID == id
		id = u.ID
		switch last := len(kept) - 1; {
		case !again:
			keep(u)
		case made[id]: // two files of one name: the ids alone are alike
			u.ID = check.FreeID(id, taken)
			keep(u)
		case compareContent(&features[i-1], &u) == 0:
			c.report(&u, ruleDuplicate, "", "", "the unit is there twice, the same in every field; the copy was rejected")
		case kept[last].Name == u.Name:
			c.report(&u, ruleParts, "unit_id", u.ID, "more than one feature has this id and name; together they are one unit")
			kept[last].More = append(kept[last].More, u.File)
			if parts[last] == nil {
				parts[last] = []orb.MultiPolygon{kept[last].Areas}
			}
			parts[last] = append(parts[last], u.Areas)
		default:
			fresh := check.FreeID(id, taken)
			c.report(&u, ruleSameID, "unit_id", u.ID, "a unit of another name has the same id; this one is now "+fresh)
			u.ID = fresh
			keep(u)
		}
	}
	for i, areas := range parts { // each goes to its own place
		kept[i].Areas = shape.Union(areas, 1)
	}
	slices.SortFunc(kept, func(a, b Unit) int { return compare(&a, &b) })
	return kept
}

// compare orders units by id, then content, then file and row, which tell only
// exact copies apart.
func compare(a, b *Unit) int {
	return cmp.Or(check.CompareNatural(a.ID, b.ID), compareContent(a, b), strings.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
}

// compareContent orders units by name and outline.
func compareContent(a, b *Unit) int {
	return cmp.Or(strings.Compare(a.Name, b.Name), slices.CompareFunc(a.Areas, b.Areas, func(p, q orb.Polygon) int {
		return slices.CompareFunc(p, q, func(r, s orb.Ring) int { return slices.CompareFunc(r, s, geo.ComparePoints) })
	}))
}
