package demo

// pair is two colonies on one shore that grow together: in one quarter, patches root in the gap between
// them.
type pair struct {
	walk              string
	at                float64 // share of the course of the shore, from its mouth
	upper, gap, lower int     // number of patches
	quarter           int
}

// pairs are on walks that are never missed, so that each joins in the quarter it should.
var pairs = []pair{
	{lowerIskarrow, 0.19, 6, 3, 5, 3},
	{lowerIskarrow, 0.09, 5, 2, 9, 5},
	{"ORV", 0.09, 4, 2, 4, 2},
}

// wide is the smallest distance in metres between the ends of a gap: well over the distance at which
// points join into a stand. Our choice.
const wide = 45

// growTogether places the pairs.
func (s *settlement) growTogether() {
	for _, p := range pairs {
		sh := shoreOf(p.walk)
		long := s.land.courses[courseIndex(s.land.courses, sh.code)].length()
		col, ok := s.riverside(sh, long*(1-p.at), p.upper+p.gap+p.lower, func(all []patch) bool {
			return distance(all[:p.upper], all[p.upper+p.gap:]) > wide
		})
		if !ok {
			continue
		}
		above, below := col, col
		above.patches, below.patches = col.patches[:p.upper+p.gap], col.patches[p.upper+p.gap:]
		below.parcel = parcel(s.r)
		s.add(above, leftAlone)
		s.add(below, leftAlone)
		n := len(s.all)
		for k := range p.gap {
			young := &s.all[n-2].patches[p.upper+k]
			young.past, young.area, young.measure = arrivedIn(p.quarter).most, young.area/4, byDiameter
		}
		s.all[n-1].joined, s.all[n-1].joins = p.quarter, n-2
	}
}

// parting is a colony whose middle is treated and dies, so that the ends are left as two stands.
type parting struct {
	walk              string
	at                float64 // share of the course of the shore, from its mouth
	upper, gap, lower int     // number of patches
	middle            history
	quarter           int // quarter from which nothing is found in the middle
}

// partings are our choice: a bridge yard, and two places where people live by the water.
var partings = []parting{
	{lowerIskarrow, 0.24, 6, 4, 4, past("LLTDDXXX"), 5},
	{lowerIskarrow, 0.06, 4, 4, 7, past("LLLLTDXX"), 6},
	{"POM", 0.35, 3, 4, 5, past("LLLTDXXX"), 5},
}

// fallApart places the partings.
func (s *settlement) fallApart() {
	for _, p := range partings {
		sh := shoreOf(p.walk)
		long := s.land.courses[courseIndex(s.land.courses, sh.code)].length()
		col, ok := s.riverside(sh, long*(1-p.at), p.upper+p.gap+p.lower, func(all []patch) bool {
			return distance(all[:p.upper], all[p.upper+p.gap:]) > wide
		})
		if !ok {
			continue
		}
		col.parted = p.quarter
		s.add(col, leftAlone)
		for k := range p.gap {
			s.all[len(s.all)-1].patches[p.upper+k].past = p.middle
		}
	}
}

// distance returns the shortest distance in metres between two groups.
func distance(some, others []patch) float64 {
	least := span(some[0].at, others[0].at)
	for _, p := range some {
		for _, q := range others {
			least = min(least, span(p.at, q.at))
		}
	}
	return least
}
