package disjoint

import "sync/atomic"

// Shared is a union-find that several workers may read and join at once: a root
// gives way only to a smaller one, by compare-and-swap, so that in the end the
// smallest member stands for each set whatever the order of the unions (Anderson and
// Woll 1991, wait-free union-find).
type Shared []atomic.Int32

// NewShared returns n sets of one.
func NewShared(n int) Shared {
	s := make(Shared, n)
	for i := range s {
		s[i].Store(int32(i))
	}
	return s
}

// Find returns the smallest member of x's set, as far as unions are done.
func (s Shared) Find(x int32) int32 {
	for {
		p := s[x].Load()
		if p == x {
			return x
		}
		g := s[p].Load()
		if g != p {
			s[x].CompareAndSwap(p, g)
		}
		x = g
	}
}

// Union joins two sets.
func (s Shared) Union(a, b int32) {
	for a != b {
		a, b = s.Find(a), s.Find(b)
		if a == b || s[max(a, b)].CompareAndSwap(max(a, b), min(a, b)) {
			return
		}
	}
}
