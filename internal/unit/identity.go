package unit

import (
	"github.com/paulmach/orb"

	"driftreach/geo/shape"
)

// join makes one unit of the features with the same id and name. Such features are next to each
// other in the order of content.
func (c *checker) join(units []Unit, alike []int) []int {
	var stay []int
	parts := map[int][]orb.MultiPolygon{} // of units made from several features
	for _, i := range alike {
		u, last := &units[i], len(stay)-1
		if last < 0 || c.Made(i) || c.Made(stay[last]) || units[stay[last]].Name != u.Name {
			stay = append(stay, i)
			continue
		}
		whole := &units[stay[last]]
		c.Report(u, ruleParts, "unit_id", u.ID, "more than one feature has this id and name; together they are one unit")
		whole.More = append(whole.More, u.File)
		if parts[stay[last]] == nil {
			parts[stay[last]] = []orb.MultiPolygon{whole.Areas}
		}
		parts[stay[last]] = append(parts[stay[last]], u.Areas)
	}
	for i, areas := range parts { // each goes to its own unit
		units[i].Areas = shape.Union(areas, 1)
	}
	return stay
}
