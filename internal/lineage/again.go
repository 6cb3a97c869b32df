package lineage

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// replaced returns what is left of a stand unseen once the finds of the stands it
// is linked to are matched with its records, one to one, nearest first: a find
// outside the ground that was looked at is a known record found again, off by
// what two positions may be. Records that were seen are matched too, so that none
// of their finds stands for another.
func (v *viewer) replaced(known *Known, left []Left) []Left {
	if len(left) == 0 || len(v.children) == 0 {
		return left
	}
	type pair struct {
		apart       geo.Meters
		known, find int32
	}
	var pairs []pair
	for _, m := range known.Members {
		r := &v.before.Records[m]
		xy := v.frame.Forward(r.Position)
		v.finds.about(r.Position, v.settings.JoinDistance, func(f int32) bool {
			if find := &v.now.Records[f]; v.mine(f) {
				if d := geo.Distance(xy, v.frame.Forward(find.Position)); d <= v.mistakable(r, find) {
					pairs = append(pairs, pair{d, m, f})
				}
			}
			return true
		})
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(a.apart, b.apart), cmp.Compare(a.known, b.known), cmp.Compare(a.find, b.find))
	})
	again, taken := map[int32]bool{}, map[int32]bool{}
	for _, p := range pairs {
		if !again[p.known] && !taken[p.find] {
			again[p.known], taken[p.find] = true, true
		}
	}
	return slices.DeleteFunc(left, func(l Left) bool { return again[l.Record] })
}

// mistakable returns how far apart two positions of one plant may be: twice the
// radius that holds 68 %, which holds 99 %, and at most the join distance.
func (v *viewer) mistakable(a, b *survey.Record) geo.Meters {
	u, w := float64(uncertainty(a, v.settings)), float64(uncertainty(b, v.settings))
	return min(v.settings.JoinDistance, geo.Meters(2*math.Hypot(u, w)))
}
