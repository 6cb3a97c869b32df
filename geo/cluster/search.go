package cluster

import (
	"context"

	"driftreach/geo/disjoint"
	"driftreach/geo/parallel"
)

// search is one run of DBSCAN. core, sets and owner are in tree order.
type search struct {
	*tree
	limit float64 // Eps squared
	need  int     // MinPoints
	units []unit
	core  []bool
	sets  disjoint.Shared
	owner []int32 // by point: a core point of its cluster, -1 for none
}

// unit is a part of the tree handled as a whole: the largest possible clump, in which all points
// are within Eps of each other, or else a leaf.
type unit struct {
	span
	clump bool
}

func (s *search) findUnits() { s.collectUnits(s.root()) }

func (s *search) collectUnits(part span) {
	clump := s.farthest(part.node, part.node) <= s.limit
	if clump || s.leaf(part) {
		s.units = append(s.units, unit{part, clump})
		return
	}
	left, right := s.children(part)
	s.collectUnits(left)
	s.collectUnits(right)
}

// near appends the units other than u within Eps of it to found.
func (s *search) near(u unit, part span, found []unit) []unit {
	if s.nearest(u.node, part.node) > s.limit {
		return found
	}
	clump := s.farthest(part.node, part.node) <= s.limit
	if clump || s.leaf(part) {
		if part.node != u.node {
			found = append(found, unit{part, clump})
		}
		return found
	}
	left, right := s.children(part)
	return s.near(u, right, s.near(u, left, found))
}

// batchSize is the number of units a worker takes at a time. Our choice: large enough that taking
// them costs nothing noticeable.
const batchSize = 256

// perUnit calls do with every unit, from the given number of workers. Each call gets a slice to
// overwrite, and returns it for the next call.
func (s *search) perUnit(workers int, do func(u unit, scratch []unit) []unit) {
	_ = parallel.EachWith(context.Background(), len(s.units), workers, batchSize, func() func(int) {
		var scratch []unit
		return func(i int) { scratch = do(s.units[i], scratch[:0]) }
	})
}
