package cluster

import "driftreach/geo/parallel"

// leafSize is the largest number of points in a leaf of the tree. Our choice: the fastest of 4, 8,
// 16 and 32 on a million points along streams.
const leafSize = 8

// tree is a k-d tree of points with all leaves at the same depth: node i has the children 2i+1 and
// 2i+2. Its points are kept in tree order.
type tree struct {
	dim    int
	coords []float64 // in tree order
	index  []int32   // place in the caller's order
	box    []float64 // by node: its smallest corner, then its largest
	inner  int       // nodes that are not leaves
}

// span is a node with the range of its points.
type span struct{ node, lo, hi int }

func buildTree(coords []float64, dim, workers int) *tree {
	n := len(coords) / dim
	leaves := 1
	for leaves*leafSize < n {
		leaves *= 2
	}
	t := &tree{
		dim:    dim,
		coords: append([]float64(nil), coords...),
		index:  make([]int32, n),
		box:    make([]float64, (2*leaves-1)*2*dim),
		inner:  leaves - 1,
	}
	for i := range t.index {
		t.index[i] = int32(i)
	}
	t.split(span{0, 0, n}, workers)
	return t
}

// split sorts the points of s into its subtree, both halves at once when workers are free.
func (t *tree) split(s span, workers int) {
	axis := t.measure(s)
	if t.leaf(s) {
		return
	}
	left, right := t.children(s)
	t.selectMedian(s.lo, s.hi, left.hi, axis)
	if workers < 2 {
		t.split(left, 1)
		t.split(right, 1)
		return
	}
	var tasks parallel.Group
	tasks.Do(func() { t.split(left, workers/2) })
	t.split(right, workers-workers/2)
	_ = tasks.Wait() // no task returns an error
}

func (t *tree) root() span { return span{0, 0, len(t.index)} }

func (t *tree) leaf(s span) bool { return s.node >= t.inner }

func (t *tree) children(s span) (left, right span) {
	mid := int(uint(s.lo+s.hi) >> 1)
	return span{2*s.node + 1, s.lo, mid}, span{2*s.node + 2, mid, s.hi}
}

// measure sets the box of s and returns its longest axis.
func (t *tree) measure(s span) int {
	least, most := t.bounds(s.node)
	copy(least, t.at(s.lo))
	copy(most, t.at(s.lo))
	for i := s.lo + 1; i < s.hi; i++ {
		for k, v := range t.at(i) {
			if v < least[k] {
				least[k] = v
			}
			if v > most[k] {
				most[k] = v
			}
		}
	}
	longest := 0
	for k := range least {
		if most[k]-least[k] > most[longest]-least[longest] {
			longest = k
		}
	}
	return longest
}

func (t *tree) at(i int) []float64 { return t.coords[i*t.dim : i*t.dim+t.dim] }

func (t *tree) bounds(node int) (least, most []float64) {
	b := t.box[node*2*t.dim : (node+1)*2*t.dim]
	return b[:t.dim], b[t.dim:]
}

// selectMedian partitions lo..hi so that the smaller values on axis come before place mid (Hoare
// 1961, Algorithm 65: find).
func (t *tree) selectMedian(lo, hi, mid, axis int) {
	hi--
	for lo < hi {
		pivot := t.medianOfThree(lo, hi, axis)
		i, j := lo, hi
		for i <= j {
			for t.coords[i*t.dim+axis] < pivot {
				i++
			}
			for t.coords[j*t.dim+axis] > pivot {
				j--
			}
			if i <= j {
				t.swap(i, j)
				i++
				j--
			}
		}
		switch {
		case mid <= j:
			hi = j
		case mid >= i:
			lo = i
		default:
			return
		}
	}
}

func (t *tree) medianOfThree(lo, hi, axis int) float64 {
	a, b, c := t.coords[lo*t.dim+axis], t.coords[int(uint(lo+hi)>>1)*t.dim+axis], t.coords[hi*t.dim+axis]
	return max(min(a, b), min(max(a, b), c))
}

func (t *tree) swap(i, j int) {
	t.index[i], t.index[j] = t.index[j], t.index[i]
	for k := range t.dim {
		t.coords[i*t.dim+k], t.coords[j*t.dim+k] = t.coords[j*t.dim+k], t.coords[i*t.dim+k]
	}
}
