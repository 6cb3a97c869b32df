package knapsack

// Mutual numbers the strongly connected components (groups) of the relation in which thing i leads
// directly to links(i). Things that lead to each other, directly or through others, share a group.
// A group's number is higher than the numbers of the groups it leads to. Tarjan's algorithm (SIAM
// J. Comput. 1(2), 1972) with an explicit stack, so that a long chain cannot exhaust the call
// stack. Cost is linear.
func Mutual(n int, links func(i int32) []int32) (group []int32, count int) {
	t := tarjan{
		links: links, group: make([]int32, n),
		index: make([]int32, n), low: make([]int32, n),
	}
	for i := range t.group {
		t.group[i] = -1
	}
	for i := range n {
		if t.index[i] == 0 {
			t.visit(int32(i))
		}
	}
	return t.group, t.count
}

type tarjan struct {
	links      func(int32) []int32
	group      []int32
	count      int
	index, low []int32 // index 0: not visited yet
	clock      int32
	open       []int32 // visited, group not known yet
	calls      []call
}

// call is a suspended visit.
type call struct {
	of   int32
	next int // next of its links to follow
}

func (t *tarjan) enter(of int32) {
	t.clock++
	t.index[of], t.low[of] = t.clock, t.clock
	t.open = append(t.open, of)
	t.calls = append(t.calls, call{of: of})
}

func (t *tarjan) visit(root int32) {
	t.enter(root)
	for len(t.calls) > 0 {
		c := &t.calls[len(t.calls)-1]
		if c.next < len(t.links(c.of)) {
			below := t.links(c.of)[c.next]
			c.next++
			switch {
			case t.index[below] == 0:
				t.enter(below)
			case t.group[below] < 0:
				t.low[c.of] = min(t.low[c.of], t.index[below])
			}
			continue
		}
		t.leave(c.of)
	}
}

// leave ends a visit and, at the root of a group, completes the group.
func (t *tarjan) leave(of int32) {
	t.calls = t.calls[:len(t.calls)-1]
	if n := len(t.calls); n > 0 {
		above := t.calls[n-1].of
		t.low[above] = min(t.low[above], t.low[of])
	}
	if t.low[of] != t.index[of] {
		return
	}
	for {
		last := t.open[len(t.open)-1]
		t.open = t.open[:len(t.open)-1]
		t.group[last] = int32(t.count)
		if last == of {
			break
		}
	}
	t.count++
}
