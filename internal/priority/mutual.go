package priority

// mutual numbers the groups of stands that reach each other, directly or by
// way of others: the strongly connected components of the reach relation, by
// Tarjan's algorithm (SIAM J. Comput. 1(2), 1972) with a stack of its own, so
// that a long chain of stands cannot exhaust the goroutine's.
func mutual(jobs []Job) (group []int32, count int) {
	t := tarjan{
		jobs: jobs, group: make([]int32, len(jobs)),
		index: make([]int32, len(jobs)), low: make([]int32, len(jobs)),
	}
	for i := range t.group {
		t.group[i] = -1
	}
	for i := range jobs {
		if t.index[i] == 0 {
			t.visit(int32(i))
		}
	}
	return t.group, t.count
}

type tarjan struct {
	jobs       []Job
	group      []int32
	count      int
	index, low []int32 // index 0: not seen yet
	clock      int32
	open       []int32 // seen, group not known yet
	calls      []call
}

// call is one suspended visit.
type call struct {
	stand int32
	next  int // place in its Reaches
}

func (t *tarjan) enter(stand int32) {
	t.clock++
	t.index[stand], t.low[stand] = t.clock, t.clock
	t.open = append(t.open, stand)
	t.calls = append(t.calls, call{stand: stand})
}

func (t *tarjan) visit(root int32) {
	t.enter(root)
	for len(t.calls) > 0 {
		c := &t.calls[len(t.calls)-1]
		if c.next < len(t.jobs[c.stand].Reaches) {
			below := t.jobs[c.stand].Reaches[c.next]
			c.next++
			switch {
			case t.index[below] == 0:
				t.enter(below)
			case t.group[below] < 0:
				t.low[c.stand] = min(t.low[c.stand], t.index[below])
			}
			continue
		}
		t.leave(c.stand)
	}
}

// leave closes a visit and, at the root of a group, the group.
func (t *tarjan) leave(stand int32) {
	t.calls = t.calls[:len(t.calls)-1]
	if n := len(t.calls); n > 0 {
		above := t.calls[n-1].stand
		t.low[above] = min(t.low[above], t.low[stand])
	}
	if t.low[stand] != t.index[stand] {
		return
	}
	for {
		last := t.open[len(t.open)-1]
		t.open = t.open[:len(t.open)-1]
		t.group[last] = int32(t.count)
		if last == stand {
			break
		}
	}
	t.count++
}
