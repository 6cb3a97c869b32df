package knapsack

import (
	"cmp"
	"slices"
)

// nearest drops, of a graph whose nodes come after those they need, every need that
// others imply: its transitive reduction (Aho, Garey & Ullman, SIAM J. Comput.
// 1(2), 1972), which a graph without circles has one of. Each node's needs end
// ascending. Cost is, by node, the nodes between its first need and itself that
// it needs in some way.
func nearest(needs [][]int32) {
	stamp := make([]int32, len(needs))
	var stack []int32
	for n := range needs {
		own := needs[n]
		if len(own) < 2 {
			continue
		}
		slices.SortFunc(own, func(a, b int32) int { return cmp.Compare(b, a) })
		first, mark, kept := own[len(own)-1], int32(n)+1, own[:0]
		for _, need := range own { // the latest first: none before it implies it
			if stamp[need] == mark {
				continue
			}
			kept = append(kept, need)
			stack = append(stack[:0], need)
			stamp[need] = mark
			for len(stack) > 0 {
				at := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				for _, further := range needs[at] {
					if further >= first && stamp[further] != mark {
						stamp[further] = mark
						stack = append(stack, further)
					}
				}
			}
		}
		slices.Sort(kept)
		needs[n] = kept
	}
}
