package restated

import (
	"slices"

	"driftreach/internal/correction"
	"driftreach/internal/lineage"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
)

// Rule applies corrections to the quarter's mapped stands: it cuts them where two stands are not the
// same, and adds or forbids links.
func Rule(r correction.Rulings, then lineage.Before, now lineage.Now, rules settings.Stages) lineage.Now {
	now.Given = r.Given
	known := func(id string) int32 { return standAt(then.Known, id) }
	find := func(id string) int32 { return recordAt(now.Records, id) }
	var apart []lineage.Separation
	for _, pair := range r.Finds {
		if f, k := find(pair[0]), known(pair[1]); f >= 0 && k >= 0 {
			apart = append(apart, lineage.Separation{Known: k, Other: -1, Find: f})
		}
	}
	for _, pair := range r.Apart {
		if a, b := known(pair[0]), known(pair[1]); a >= 0 && b >= 0 && a != b {
			apart = append(apart, lineage.Separation{Known: min(a, b), Other: max(a, b), Find: -1})
		}
	}
	now = lineage.SetApart(then, now, apart, rules.Lineage, func(members []int32) stand.Stand {
		st := stand.Build(now.Records, members, rules.Stands)
		st.Isolated = len(members) < rules.Stands.MinPoints
		return st
	})
	for _, pair := range r.Same {
		f, k := find(pair[0]), known(pair[1])
		if f < 0 || k < 0 {
			continue
		}
		if i := slices.IndexFunc(now.Stands, func(s stand.Stand) bool { return slices.Contains(s.Members, f) }); i >= 0 {
			now.Same = append(now.Same, lineage.Pair{Known: k, Stand: int32(i)})
		}
	}
	return now
}
