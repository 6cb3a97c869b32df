// Package disjoint keeps disjoint sets of the numbers from 0 (union-find), and lists numbers by their set.
package disjoint

// Sets is a union-find over the numbers from 0. The smallest member represents its set. Each step
// takes nearly constant time.
type Sets []int32

// NewSets returns n sets of one.
func NewSets(n int) Sets {
	s := make(Sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// Find returns the smallest member of x's set.
func (s Sets) Find(x int32) int32 {
	for s[x] != x {
		s[x] = s[s[x]]
		x = s[x]
	}
	return x
}

// Union joins two sets and reports whether they were separate before.
func (s Sets) Union(a, b int32) bool {
	a, b = s.Find(a), s.Find(b)
	if a == b {
		return false
	}
	if a > b {
		a, b = b, a
	}
	s[b] = a
	return true
}

// Read returns what Find does but changes nothing, so that several workers may read at once.
func (s Sets) Read(x int32) int32 {
	for s[x] != x {
		x = s[x]
	}
	return x
}
