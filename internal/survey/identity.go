package survey

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// place is one record's place in the order by id; head holds the eight bytes
// of its id after what all ids share, so that most comparisons read no string.
type place struct {
	head  uint64
	index int
}

// unify sorts the records by id and makes the ids unique: of exact copies
// one stays; of different records with one id the first by content keeps it
// and the others get "~2", "~3".
func (c *checker) unify(records []Record, made map[int]bool) []Record {
	order := sortedByID(records)
	taken := map[string]bool{} // ids given below
	drop := map[int]bool{}
	for first := 0; first < len(order); {
		last := first + 1
		for last < len(order) && records[order[last].index].ID == records[order[first].index].ID {
			last++
		}
		if last-first > 1 {
			c.part(records, order, first, last, made, taken, drop)
		}
		first = last
	}
	if len(drop) > 0 {
		order = slices.DeleteFunc(order, func(p place) bool { return drop[p.index] })
	}
	records = arrange(records, order)
	if len(taken) > 0 {
		records = arrange(records, sortedByID(records))
	}
	return records
}

// part settles the records order[first:last], which share one id.
func (c *checker) part(records []Record, order []place, first, last int, made map[int]bool, taken map[string]bool, drop map[int]bool) {
	id := records[order[first].index].ID
	next := 2
	for k := first + 1; k < last; k++ {
		r, before := &records[order[k].index], &records[order[k-1].index]
		own := made[order[k].index]
		if !own && !made[order[k-1].index] && compareContent(r, before) == 0 {
			drop[order[k].index] = true
			c.report(r, ruleDuplicate, "", "", "the record is there twice, the same in every field; the copy was rejected")
			continue
		}
		for ; ; next++ {
			name := id + "~" + strconv.Itoa(next)
			if !taken[name] && !holds(records, order, name) {
				taken[name] = true
				if !own {
					c.report(r, ruleSameID, "occurrenceID", id, fmt.Sprintf("another record has the same id; this one is now %s", name))
				}
				defer func() { r.ID = name }() // after the last lookup in the order
				break
			}
		}
	}
}

func holds(records []Record, order []place, id string) bool {
	_, found := slices.BinarySearchFunc(order, id, func(p place, id string) int {
		return strings.Compare(records[p.index].ID, id)
	})
	return found
}

// sortedByID returns the records' places in the order of id, then content,
// then file and row (which tell only exact copies apart).
func sortedByID(records []Record) []place {
	shared := sharedPrefix(records)
	order := make([]place, len(records))
	for i := range records {
		order[i] = place{head: head(records[i].ID[shared:]), index: i}
	}
	slices.SortFunc(order, func(a, b place) int {
		if a.head != b.head {
			return cmp.Compare(a.head, b.head)
		}
		x, y := &records[a.index], &records[b.index]
		if c := strings.Compare(x.ID, y.ID); c != 0 {
			return c
		}
		return cmp.Or(compareContent(x, y), strings.Compare(x.File, y.File), cmp.Compare(x.Row, y.Row), cmp.Compare(a.index, b.index))
	})
	return order
}

func sharedPrefix(records []Record) int {
	if len(records) == 0 {
		return 0
	}
	first := records[0].ID
	n := len(first)
	for i := range records {
		id := records[i].ID
		n = min(n, len(id))
		for k := n - 1; k >= 0; k-- {
			if id[k] != first[k] {
				n = k
			}
		}
	}
	return n
}

// head packs the first eight bytes of s, so that comparing heads compares
// bytes; a short s is filled with zeros, and equal heads decide nothing.
func head(s string) uint64 {
	var h uint64
	for i := range 8 {
		h <<= 8
		if i < len(s) {
			h |= uint64(s[i])
		}
	}
	return h
}

// arrange moves records[order[i].index] to place i for all i, in place, and
// uses order up. Records that order leaves out are lost.
func arrange(records []Record, order []place) []Record {
	if len(order) < len(records) {
		all := make([]Record, len(order))
		for i, p := range order {
			all[i] = records[p.index]
		}
		return all
	}
	for start := range order {
		if order[start].index < 0 {
			continue
		}
		held, at := records[start], start
		for {
			from := order[at].index
			order[at].index = -1
			if from == start {
				records[at] = held
				break
			}
			records[at] = records[from]
			at = from
		}
	}
	return records
}
