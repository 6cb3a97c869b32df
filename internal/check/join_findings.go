package check

import "slices"

// spareRoom is the spare capacity of a log's list of findings, as a share of its length. Our choice: if
// a file is wrong throughout, its other checks add few findings.
const spareRoom = 1.0 / 16

// Join returns the findings of several checks in one list, sorted as Sort does. It takes the lists
// over. The others are appended to the longest, which has spare capacity in a log, so that a hundred
// thousand findings are not copied to add a few.
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

// joined returns a copy of the lists in one list with spare capacity.
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
