package flow

import "slices"

// sets is a union-find over small numbers; the smallest member stands for each
// set.
type sets []int32

// newSets returns n sets of one.
func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// find returns the smallest member of x's set.
func (s sets) find(x int32) int32 {
	for s[x] != x {
		s[x] = s[s[x]]
		x = s[x]
	}
	return x
}

// union joins two sets and reports whether they were apart.
func (s sets) union(a, b int32) bool {
	a, b = s.find(a), s.find(b)
	if a == b {
		return false
	}
	if a > b {
		a, b = b, a
	}
	s[b] = a
	return true
}

// read returns what find does without tidying up, so that many may read at once.
func (s sets) read(x int32) int32 {
	for s[x] != x {
		x = s[x]
	}
	return x
}

// sortedKeys returns the keys of a map in ascending order.
func sortedKeys[V any](m map[int32]V) []int32 {
	keys := make([]int32, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
