package intake

import "github.com/paulmach/orb"

// slab allocates slices from one large array, so that a file of many short lines does not need many
// small allocations.
type slab struct{ free []orb.Point }

// slabSize is how many positions are allocated at once. Our choice: one megabyte.
const slabSize = 1 << 16

func (s *slab) copy(points []orb.Point) []orb.Point {
	n := len(points)
	if n > slabSize/4 {
		return append([]orb.Point(nil), points...)
	}
	if len(s.free) < n {
		s.free = make([]orb.Point, slabSize)
	}
	out := s.free[:n:n]
	s.free = s.free[n:]
	copy(out, points)
	return out
}
