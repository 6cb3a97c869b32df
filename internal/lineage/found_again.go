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
// of their finds stands for another. What then has no partner on either side is matched
// once more, half as far again, and others are given another find for its sake: one plant
// in a hundred lies beyond the first distance, and it, or one that nearest first left
// over, would be carried for good beside itself.
func (v *viewer) replaced(known *Known, left []Left) []Left {
	if len(left) == 0 || len(v.children) == 0 {
		return left
	}
	type pair struct {
		far         bool // in the second round
		apart       geo.Meters
		known, find int32
	}
	var pairs []pair
	for _, m := range known.Members {
		r := &v.before.Records[m]
		xy := v.frame.Forward(r.Position)
		v.finds.about(r.Position, v.settings.JoinDistance, func(f int32) bool {
			if find := &v.now.Records[f]; v.mine(f) {
				if d := geo.Distance(xy, v.frame.Forward(find.Position)); d <= v.mistakable(r, find, outliers) {
					pairs = append(pairs, pair{d > v.mistakable(r, find, mostOf), d, m, f})
				}
			}
			return true
		})
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		return cmp.Or(geo.CompareBools(a.far, b.far), cmp.Compare(a.apart, b.apart), cmp.Compare(a.known, b.known), cmp.Compare(a.find, b.find))
	})
	m := matching{find: map[int32]int32{}, known: map[int32]int32{}, may: map[int32][]int32{}}
	for _, p := range pairs {
		m.may[p.known] = append(m.may[p.known], p.find)
		if _, again := m.find[p.known]; again {
			continue
		}
		if _, taken := m.known[p.find]; !taken {
			m.join(p.known, p.find)
		}
	}
	return slices.DeleteFunc(left, func(l Left) bool {
		_, again := m.find[l.Record]
		return again || m.widen(l.Record)
	})
}

// matching is known records and finds, one to one.
type matching struct {
	find  map[int32]int32   // by known record
	known map[int32]int32   // by find
	may   map[int32][]int32 // by known record: finds that may be it, nearest first
}

func (m *matching) join(known, find int32) { m.find[known], m.known[find] = find, known }

// mostSteps bounds how many records are asked whether they have another find, before one
// counts as not found. Our choice: about a stand's row and those beside it.
const mostSteps = 64

// widen finds a partner for one more record, where others can do with another of theirs
// (Berge 1957: a path of pairs by turns in and out of the matching), the fewest first. In
// a dense row nearest first leaves a plant without a find and a find without a plant.
func (m *matching) widen(record int32) bool {
	from, asked := map[int32]int32{}, []int32{record} // by find: who asked for it
	for i := 0; i < len(asked) && i < mostSteps; i++ {
		for _, f := range m.may[asked[i]] {
			if _, met := from[f]; met {
				continue
			}
			from[f] = asked[i]
			owner, taken := m.known[f]
			if taken {
				asked = append(asked, owner)
				continue
			}
			for { // back along the path
				k := from[f]
				next, had := m.find[k]
				m.join(k, f)
				if !had {
					return true
				}
				f = next
			}
		}
	}
	return false
}

// Of two positions of one plant 99 % lie no farther apart than twice the radius that
// holds 68 % of their distances, and all but three in 100 000 than three times it.
const mostOf, outliers = 2, 3

// mistakable returns how far apart two positions of one plant may be, in radii that hold
// 68 %, and at most the join distance.
func (v *viewer) mistakable(a, b *survey.Record, radii float64) geo.Meters {
	u, w := float64(uncertainty(a, v.settings)), float64(uncertainty(b, v.settings))
	return min(v.settings.JoinDistance, geo.Meters(radii*math.Hypot(u, w)))
}
