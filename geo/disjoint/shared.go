package disjoint

import "sync/atomic"

// Shared is a union-find that several workers may use at once. A root is replaced only by a smaller
// one, by compare-and-swap. So the smallest member represents each set in the end, in any order of
// unions (Anderson and Woll 1991, wait-free union-find).
type Shared []atomic.Int32

// NewShared returns n sets of one.
func NewShared(n int) Shared {
	s := make(Shared, n)
	for i := range s {
		s[i].Store(int32(i))
	}
	return s
}

// Find returns the smallest member of x's set, according to the unions finished so far.
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
