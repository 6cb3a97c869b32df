package cluster

// joinCores joins the core points of u with the core points near them, in u and in later units.
func (s *search) joinCores(u unit, scratch []unit) []unit {
	first := s.firstCore(u)
	if first < 0 {
		return scratch
	}
	s.joinWithin(u)
	around := s.near(u, s.root(), scratch)
	for _, v := range around {
		if v.lo < u.lo {
			continue
		}
		other := s.firstCore(v)
		if other < 0 {
			continue
		}
		if u.clump && v.clump {
			// Each clump is one cluster, so one pair of neighbours joins both.
			if !s.together(first, other) && s.touch(u.span, v.span) {
				s.sets.Union(int32(first), int32(other))
			}
			continue
		}
		s.joinAll(u, v)
	}
	return around
}

func (s *search) firstCore(u unit) int {
	for i := u.lo; i < u.hi; i++ {
		if s.core[i] {
			return i
		}
	}
	return -1
}

func (s *search) joinWithin(u unit) {
	if u.clump {
		first := s.firstCore(u)
		for i := first + 1; i < u.hi; i++ {
			if s.core[i] {
				s.sets.Union(int32(first), int32(i))
			}
		}
		return
	}
	for i := u.lo; i < u.hi; i++ {
		s.joinPoint(i, span{u.node, i + 1, u.hi}, false)
	}
}

// joinAll joins every pair of core neighbours of u and v. At least one of the two is a leaf that is
// not a clump.
func (s *search) joinAll(u, v unit) {
	if u.clump { // a clump usually has more points
		u, v = v, u
	}
	for i := u.lo; i < u.hi; i++ {
		s.joinPoint(i, v.span, v.clump)
	}
}

// joinPoint joins core point i with its core neighbours in part; in a clump one of them is enough.
// It reports whether there is one.
func (s *search) joinPoint(i int, part span, clump bool) bool {
	if !s.core[i] || part.lo == part.hi || s.pointNearest(i, part.node) > s.limit {
		return false
	}
	if !s.leaf(part) {
		left, right := s.children(part)
		found := s.joinPoint(i, left, clump)
		if found && clump {
			return found
		}
		return s.joinPoint(i, right, clump) || found
	}
	found := false
	for j := part.lo; j < part.hi; j++ {
		if s.core[j] && s.between(i, j) <= s.limit {
			s.sets.Union(int32(i), int32(j))
			found = true
			if clump {
				break
			}
		}
	}
	return found
}

// touch reports whether any core point of a is a neighbour of a core point of b.
func (s *search) touch(a, b span) bool {
	if s.nearest(a.node, b.node) > s.limit {
		return false
	}
	switch {
	case !s.leaf(a) && (s.leaf(b) || a.hi-a.lo >= b.hi-b.lo):
		left, right := s.children(a)
		return s.touch(left, b) || s.touch(right, b)
	case !s.leaf(b):
		left, right := s.children(b)
		return s.touch(a, left) || s.touch(a, right)
	}
	for i := a.lo; i < a.hi; i++ {
		if !s.core[i] {
			continue
		}
		for j := b.lo; j < b.hi; j++ {
			if s.core[j] && s.between(i, j) <= s.limit {
				return true
			}
		}
	}
	return false
}

// together reports whether two core points are known to share a cluster.
func (s *search) together(i, j int) bool { return s.sets.Find(int32(i)) == s.sets.Find(int32(j)) }
