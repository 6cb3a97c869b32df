package lineage

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// replaced returns the unseen parts of a stand that remain after its records are matched with
// finds. The finds are those of the stands it is linked to. A find outside the surveyed ground
// is a known record found again, displaced by the errors of two positions. Records and finds are
// matched one to one, nearest first. Seen records take part too, so that each find is matched
// with its own record.
//
// Records and finds left without a partner are then matched again within one and a half times
// the distance; earlier pairs may change partners for that. About one plant in a hundred lies
// beyond the first distance. Without the second round such a plant would be counted twice from
// then on: as found and as carried. So would a plant that lost its find because the nearest pair
// was taken first.
func (v *viewer) replaced(known *Known, left []Left) []Left {
	if len(left) == 0 || len(v.children) == 0 {
		return left
	}
	type pair struct {
		far         bool // only within the wider distance
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

// matching is a one-to-one matching of known records and finds.
type matching struct {
	find  map[int32]int32   // by known record
	known map[int32]int32   // by find
	may   map[int32][]int32 // by known record: the finds that may match it, nearest first
}

func (m *matching) join(known, find int32) { m.find[known], m.known[find] = find, known }

// mostSteps limits how many records are tried for another partner before a record counts as not
// found. Our choice: about a row of plants and the rows beside it.
const mostSteps = 64

// widen finds a partner for one more record, if necessary by giving others another partner (an
// augmenting path, Berge 1957), changing as few pairs as possible. In a dense row, taking the
// nearest first can leave a plant without a find and a find without a plant.
func (m *matching) widen(record int32) bool {
	from, asked := map[int32]int32{}, []int32{record} // by find: the record that asked for it
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

// Of two positions of one plant, 99 % are no farther apart than twice the radius that contains 68 %
// of their distances, and all but three in 100 000 than three times it.
const mostOf, outliers = 2, 3

// mistakable returns how far apart two positions of one plant may be: the given number of 68 %
// radii, at most the join distance.
func (v *viewer) mistakable(a, b *survey.Record, radii float64) geo.Meters {
	u, w := float64(uncertainty(a, v.settings)), float64(uncertainty(b, v.settings))
	return min(v.settings.JoinDistance, geo.Meters(radii*math.Hypot(u, w)))
}
