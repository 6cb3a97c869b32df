package shape

import "sync/atomic"

// lineForest says which lines' buffers hang together. Several goroutines may
// join at once: a root gives way only to a smaller one.
type lineForest []atomic.Int32

func newLineForest(n int) lineForest {
	f := make(lineForest, n)
	for i := range f {
		f[i].Store(int32(i))
	}
	return f
}

func (f lineForest) find(i int32) int32 {
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

func (f lineForest) join(i, j int32) {
	for i != j {
		a, b := f.find(i), f.find(j)
		if a == b || f[max(a, b)].CompareAndSwap(max(a, b), min(a, b)) {
			return
		}
	}
}
