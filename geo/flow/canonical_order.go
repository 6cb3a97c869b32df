package flow

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/geo"
)

// canonical returns the indices of the lines sorted by name, and by all other recorded values where
// names repeat. The order depends only on the lines. n log n; most comparisons need only an
// eight-byte prefix.
func canonical(lines Lines) []int32 {
	skip := commonPrefix(lines)
	type key struct {
		prefix uint64
		line   int32
	}
	keys := make([]key, lines.Len())
	sorted, before := true, ""
	for i := range keys {
		name := lines.Line(int32(i)).Name
		keys[i] = key{prefix(name, skip), int32(i)}
		sorted = sorted && (i == 0 || before < name)
		before = name
	}
	if !sorted {
		slices.SortFunc(keys, func(a, b key) int {
			if c := cmp.Compare(a.prefix, b.prefix); c != 0 {
				return c
			}
			return compareLines(lines.Line(a.line), lines.Line(b.line))
		})
	}
	order := make([]int32, len(keys))
	for i, k := range keys {
		order[i] = k.line
	}
	return order
}

// commonPrefix returns the length of the longest prefix that all names share.
func commonPrefix(lines Lines) int {
	if lines.Len() == 0 {
		return 0
	}
	first := lines.Line(0).Name
	n := len(first)
	for i := range lines.Len() {
		name := lines.Line(int32(i)).Name
		n = min(n, len(name))
		for name[:n] != first[:n] {
			n--
		}
	}
	return n
}

// prefix returns the eight bytes of name after skip as a number that sorts in the same order.
func prefix(name string, skip int) uint64 {
	var p uint64
	for i := skip; i < skip+8; i++ {
		p <<= 8
		if i < len(name) {
			p |= uint64(name[i])
		}
	}
	return p
}

// compareLines orders two lines by name, then by everything else recorded.
func compareLines(a, b Line) int {
	if c := strings.Compare(a.Name, b.Name); c != 0 {
		return c
	}
	return cmp.Or(
		slices.CompareFunc(a.Path, b.Path, geo.ComparePoints),
		strings.Compare(a.From, b.From), strings.Compare(a.To, b.To),
		cmp.Compare(a.Sequence, b.Sequence), cmp.Compare(a.Divergence, b.Divergence),
		cmp.Compare(a.Share, b.Share), cmp.Compare(a.Width, b.Width),
		cmp.Compare(a.Length, b.Length), cmp.Compare(a.Area, b.Area),
		cmp.Compare(a.Order, b.Order), cmp.Compare(a.Fall, b.Fall),
		count(a.Barrier)-count(b.Barrier), count(a.Shore)-count(b.Shore),
		slices.CompareFunc(a.along().Stops, b.along().Stops, compareStops),
	)
}
