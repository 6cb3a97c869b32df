package cluster

import "math"

// ownPoints finds the cluster of each point of u: the point itself when it is core, else the
// nearest core point within Eps.
func (s *search) ownPoints(u unit, scratch []unit) []unit {
	around := scratch
	for i := u.lo; i < u.hi; i++ {
		if s.core[i] {
			s.owner[i] = s.sets.Find(int32(i))
			continue
		}
		if len(around) == 0 {
			around = append(s.near(u, s.root(), around), u)
		}
		best := candidate{distance: s.limit, index: math.MaxInt32, place: -1}
		for _, v := range around {
			best = s.nearestCore(i, v.span, best)
		}
		s.owner[i] = -1
		if best.place >= 0 {
			s.owner[i] = s.sets.Find(best.place)
		}
	}
	return around
}

// candidate is a core point: its squared distance, its place in the caller's order and in tree
// order.
type candidate struct {
	distance     float64
	index, place int32
}

// nearestCore returns the better of best and the core point of part nearest to i; of equally near
// points, the one with the smaller index.
func (s *search) nearestCore(i int, part span, best candidate) candidate {
	if s.pointNearest(i, part.node) > best.distance {
		return best
	}
	if !s.leaf(part) {
		left, right := s.children(part)
		return s.nearestCore(i, right, s.nearestCore(i, left, best))
	}
	for j := part.lo; j < part.hi; j++ {
		if !s.core[j] {
			continue
		}
		d := s.between(i, j)
		if d < best.distance || d == best.distance && s.index[j] < best.index {
			best = candidate{d, s.index[j], int32(j)}
		}
	}
	return best
}

// result returns the clusters in the caller's order, numbered by their smallest members.
func (s *search) result() Result {
	n := len(s.index)
	r := Result{Label: make([]int32, n), Core: make([]bool, n)}
	for place, i := range s.index {
		r.Label[i] = s.owner[place]
		r.Core[i] = s.core[place]
	}
	number := s.owner
	for i := range number {
		number[i] = -1
	}
	for i, root := range r.Label {
		if root < 0 {
			continue
		}
		if number[root] < 0 {
			number[root] = int32(r.Clusters)
			r.Clusters++
		}
		r.Label[i] = number[root]
	}
	return r
}

// Result has one entry per point, in the given order.
type Result struct {
	Label    []int32 // cluster; -1 for a point without a core point within Eps
	Core     []bool  // has MinPoints neighbours or more
	Clusters int     // labels run from 0 to Clusters-1, in the order of the smallest index in each cluster
}
