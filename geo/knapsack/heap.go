package knapsack

// entry is a node waiting in a heap.
type entry struct {
	key     float64
	of      int32
	version int32 // of the node when it was pushed
}

func (e entry) before(f entry) bool {
	return e.key < f.key || e.key == f.key && e.of < f.of
}

// heap has the smallest key on top; of equal keys, the lowest node.
type heap []entry

func (h *heap) push(e entry) {
	*h = append(*h, e)
	all := *h
	for at := len(all) - 1; at > 0; {
		up := (at - 1) / 2
		if !all[at].before(all[up]) {
			break
		}
		all[at], all[up] = all[up], all[at]
		at = up
	}
}

func (h *heap) pop() entry {
	all := *h
	top, last := all[0], len(all)-1
	all[0] = all[last]
	all = all[:last]
	*h = all
	for at := 0; ; {
		least := at
		for down := 2*at + 1; down <= 2*at+2 && down < last; down++ {
			if all[down].before(all[least]) {
				least = down
			}
		}
		if least == at {
			return top
		}
		all[at], all[least] = all[least], all[at]
		at = least
	}
}

// top returns the first entry that is still up to date, and drops outdated ones before it.
func (h *heap) top(c *chain) (entry, bool) {
	for len(*h) > 0 {
		e := (*h)[0]
		if c.state[e.of] == waiting && c.merged[e.of] == e.of && c.version[e.of] == e.version {
			return e, true
		}
		h.pop()
	}
	return entry{}, false
}
