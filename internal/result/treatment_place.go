package result

import (
	"slices"
	"strings"
)

// place returns where a treatment counts.
func (r *Run) place(j *Treatment) Place {
	if j.Carried {
		return j.Told
	}
	var p Place
	for _, g := range j.On {
		p.Stands = append(p.Stands, r.groundID(g))
		if s := r.waterOf(g); s.Name != "" {
			p.Waters = append(p.Waters, s.Name)
		}
		if len(r.Units) == 0 {
			continue
		}
		for _, share := range r.unitsOf(j, g) {
			p.UnitIDs = r.appendUnit(p.UnitIDs, share.Unit)
		}
	}
	if len(j.On) == 0 && len(r.Units) > 0 && j.Unit >= 0 {
		p.UnitIDs = r.appendUnit(nil, j.Unit)
	}
	return Place{unique(p.Stands), unique(p.Waters), unique(p.UnitIDs)}
}

func unique(words []string) []string {
	slices.SortFunc(words, strings.Compare)
	return slices.Compact(words)
}
