package knapsack

import (
	"cmp"
	"slices"
)

// Nearest reduces a relation, in which thing i leads to links(i), to few links with the same
// reachability. Between things that do not lead to each other, the result is the only smallest set
// of links; among things that do, it keeps at most two links per thing. All kept links come from
// the relation, in ascending order.
func Nearest(n int, links func(i int32) []int32) [][]int32 {
	group, count := Mutual(n, links)
	between := make([][]int32, count)
	way := map[[2]int32][2]int32{} // by pair of groups: the first link found
	members := make([][]int32, count)
	for i := range int32(n) {
		g := group[i]
		members[g] = append(members[g], i)
		for _, to := range links(i) {
			pair := [2]int32{g, group[to]}
			if _, there := way[pair]; !there && g != group[to] {
				way[pair] = [2]int32{i, to}
				between[g] = append(between[g], group[to])
			}
		}
	}
	nearest(between)
	out := make([][]int32, n)
	for g, onward := range between {
		for _, to := range onward {
			link := way[[2]int32{int32(g), to}]
			out[link[0]] = append(out[link[0]], link[1])
		}
		if len(members[g]) > 1 {
			bind(members[g], links, out)
		}
	}
	for i := range out {
		slices.Sort(out[i])
		out[i] = slices.Compact(out[i])
	}
	return out
}

// bind links things that lead to each other: from the first to each, and from each to the first,
// along paths of fewest steps.
func bind(members []int32, links func(int32) []int32, out [][]int32) {
	back := map[int32][]int32{}
	for _, i := range members {
		back[i] = nil
	}
	for _, i := range members {
		for _, to := range links(i) {
			if _, inside := back[to]; inside {
				back[to] = append(back[to], i)
			}
		}
	}
	spanning := func(links func(int32) []int32, keep func(from, to int32)) {
		seen, list := map[int32]bool{members[0]: true}, []int32{members[0]}
		for at := 0; at < len(list); at++ {
			for _, to := range links(list[at]) {
				if _, inside := back[to]; inside && !seen[to] {
					seen[to] = true
					list = append(list, to)
					keep(list[at], to)
				}
			}
		}
	}
	spanning(links, func(from, to int32) { out[from] = append(out[from], to) })
	spanning(func(i int32) []int32 { return back[i] }, func(from, to int32) { out[to] = append(out[to], from) })
}

// nearest drops every need that other needs imply, in a graph whose nodes come after those they
// need: its transitive reduction (Aho, Garey & Ullman, SIAM J. Comput. 1(2), 1972), which is unique
// in a graph without cycles. Each node's needs end ascending. The cost per node is the number of
// nodes it needs, directly or not, from its first need on.
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
		for _, need := range own { // the latest first: no earlier need implies it
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
