package check

import "slices"

// spareRoom is the share of a log's findings for which it leaves room behind them.
// Our choice: other checks have few beside those of a file that is wrong throughout.
const spareRoom = 1.0 / 16

// Join returns the findings of several checks in one list, in the order of Sort. It
// takes the lists over: the others are put behind the longest, which a log leaves
// some room for, so that a hundred thousand are not copied for the sake of a few.
func Join(lists ...[]Finding) []Finding {
	longest := 0
	for i := range lists {
		if len(lists[i]) > len(lists[longest]) {
			longest = i
		}
	}
	var all []Finding
	if len(lists) > 0 {
		all = lists[longest]
	}
	for i, list := range lists {
		if i != longest {
			all = append(all, list...)
		}
	}
	Sort(all)
	return all
}

// joined returns a copy of the lists in one, with room to spare.
func joined(lists [][]Finding) []Finding {
	n := 0
	for _, list := range lists {
		n += len(list)
	}
	all := slices.Grow([]Finding(nil), n+int(spareRoom*float64(n)))
	for _, list := range lists {
		all = append(all, list...)
	}
	return all
}
