package cluster

import "sync/atomic"

// forest is a union-find that several goroutines may grow at once: a root is
// replaced only by a smaller one, by compare-and-swap, so that in the end each
// root is the smallest member of its class whatever the order of joins.
type forest []atomic.Int32

func newForest(n int) forest {
	f := make(forest, n)
	for i := range f {
		f[i].Store(int32(i))
	}
	return f
}

// find returns the root of i, halving the path on the way.
func (f forest) find(i int32) int32 {
	for {
		p := f[i].Load()
		if p == i {
			return i
		}
		g := f[p].Load()
		if g != p {
			f[i].CompareAndSwap(p, g)
		}
		i = g
	}
}

// same reports whether i and j are known to share a class.
func (f forest) same(i, j int) bool { return f.find(int32(i)) == f.find(int32(j)) }

func (f forest) join(i, j int) {
	for {
		a, b := f.find(int32(i)), f.find(int32(j))
		if a == b {
			return
		}
		if f[max(a, b)].CompareAndSwap(max(a, b), min(a, b)) {
			return
		}
	}
}
