package disjoint

// Group lists the numbers 0 to items-1 by their group, ascending within each group: those of group g are
// list[start[g]:start[g+1]]. Linear.
func Group(groups, items int, of func(int) int32) (start, list []int32) {
	start = make([]int32, groups+1)
	for i := range items {
		start[of(i)+1]++
	}
	for g := range groups {
		start[g+1] += start[g]
	}
	fill := append([]int32(nil), start[:groups]...)
	list = make([]int32, items)
	for i := range items {
		g := of(i)
		list[fill[g]] = int32(i)
		fill[g]++
	}
	return start, list
}
