package shape

import "slices"

// intervals is the parts of an element known to be covered by capsules: in order, disjoint, each
// with the elements at its start and end.
type intervals []stretch

// add adds a covered stretch.
func (c intervals) add(s stretch) intervals {
	first, _ := slices.BinarySearchFunc(c, s.lo, func(part stretch, lo float64) int {
		if part.hi < lo {
			return -1
		}
		return 1
	})
	last := first
	for ; last < len(c) && c[last].lo <= s.hi; last++ {
		if c[last].lo <= s.lo {
			s.lo, s.in = c[last].lo, c[last].in
		}
		if c[last].hi >= s.hi {
			s.hi, s.out = c[last].hi, c[last].out
		}
	}
	return slices.Replace(c, first, last, s)
}

// open returns the shortest part of lo to hi that contains all its uncovered places; nothing is
// uncovered unless from < to.
func (c intervals) open(lo, hi float64) (from, to float64) {
	from, to = lo, hi
	first, _ := slices.BinarySearchFunc(c, lo, func(part stretch, lo float64) int {
		if part.hi < lo {
			return -1
		}
		return 1
	})
	if first < len(c) && c[first].lo <= from {
		from = c[first].hi
	}
	for last := first; last < len(c) && c[last].lo < hi; last++ {
		if c[last].hi >= hi {
			to = c[last].lo
			break
		}
	}
	return from, to
}
