package cluster

// markCores marks which points of u are core points.
func (s *search) markCores(u unit, scratch []unit) []unit {
	if u.clump && u.hi-u.lo >= s.need {
		for i := u.lo; i < u.hi; i++ {
			s.core[i] = true
		}
		return scratch
	}
	around := s.near(u, s.root(), scratch)
	for i := u.lo; i < u.hi; i++ {
		count := s.count(i, u.span, s.need)
		for _, v := range around {
			if count >= s.need {
				break
			}
			count += s.count(i, v.span, s.need-count)
		}
		s.core[i] = count >= s.need
	}
	return around
}

// count returns how many points of part are neighbours of point i. Once it has found enough, it may
// return early.
func (s *search) count(i int, part span, enough int) int {
	if s.pointNearest(i, part.node) > s.limit {
		return 0
	}
	if !s.leaf(part) {
		if s.pointFarthest(i, part.node) <= s.limit {
			return part.hi - part.lo
		}
		left, right := s.children(part)
		n := s.count(i, left, enough)
		if n < enough {
			n += s.count(i, right, enough-n)
		}
		return n
	}
	n := 0
	for j := part.lo; j < part.hi; j++ {
		if s.between(i, j) <= s.limit {
			n++
		}
	}
	return n
}
