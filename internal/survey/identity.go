package survey

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// place is one record's place in the order by id; head holds the eight bytes
// of its id after what all ids share, so that most comparisons read no string.
type place struct {
	head  uint64
	index int
}

// naming is a batch whose ids are being made unique.
type naming struct {
	*checker
	records []Record
	order   []place        // by id
	made    map[int]bool   // records whose id was made from file and row
	given   map[string]int // new ids, and to which record
	drop    map[int]bool   // copies
}

// unify sorts the records by id and makes the ids unique: of exact copies
// one stays; of looks at one plant, which are records of one id whose positions
// agree, the newest; of other records with one id a find keeps it, the first by
// content, and the others get "~2", "~3".
func (c *checker) unify(records []Record, made map[int]bool) []Record {
	n := naming{c, records, sortedByID(records), made, map[string]int{}, map[int]bool{}}
	for first := 0; first < len(n.order); {
		last := first + 1
		for last < len(n.order) && records[n.order[last].index].ID == records[n.order[first].index].ID {
			last++
		}
		if last-first > 1 {
			n.part(first, last)
		}
		first = last
	}
	for id, index := range n.given { // each to its own record; the order held till here
		records[index].ID = id
	}
	if len(n.drop) > 0 {
		n.order = slices.DeleteFunc(n.order, func(p place) bool { return n.drop[p.index] })
	}
	records = arrange(records, n.order)
	if len(n.given) > 0 {
		records = arrange(records, sortedByID(records))
	}
	return records
}

// part settles the records order[first:last], which share one id.
func (n *naming) part(first, last int) {
	for k := first + 1; k < last; k++ {
		index, before := n.order[k].index, n.order[k-1].index
		r := &n.records[index]
		if !n.made[index] && !n.made[before] && compareContent(r, &n.records[before]) == 0 {
			n.drop[index] = true
			n.report(r, ruleDuplicate, "", "", "the record is there twice, the same in every field; the copy was rejected")
		}
	}
	n.newest(first, last)
	var left []int
	for _, p := range n.order[first:last] {
		if !n.drop[p.index] {
			left = append(left, p.index)
		}
	}
	slices.SortStableFunc(left, func(a, b int) int { return geo.CompareBools(n.records[b].Detected, n.records[a].Detected) })
	id, next := n.records[left[0]].ID, 2
	for _, index := range left[1:] {
		fresh := ""
		for ; fresh == "" || n.holds(fresh); next++ {
			fresh = id + "~" + strconv.Itoa(next)
		}
		if !n.made[index] {
			n.report(&n.records[index], ruleSameID, "occurrenceID", id, "another record, of another place or finding, has the same id; this one is now "+fresh)
		}
		n.given[fresh] = index
	}
}

// newest sets aside looks at a plant that was looked at again on a later day. Two of
// one day are more likely two plants with a slip in their numbers. An older find is
// not set aside for a newer absence: SettleAbsences sees to that.
func (n *naming) newest(first, last int) {
	var looks []int
	for _, p := range n.order[first:last] {
		if !n.drop[p.index] && !n.made[p.index] && !n.records[p.index].End.IsZero() {
			looks = append(looks, p.index)
		}
	}
	if len(looks) < 2 || n.options.Quarter.IsZero() { // of many quarters, none is the newest
		return
	}
	slices.SortStableFunc(looks, func(a, b int) int { return cmp.Compare(n.records[b].End, n.records[a].End) })
	reach := geo.Meters(0)
	for _, index := range looks {
		reach = max(reach, 2*n.options.uncertainty(&n.records[index]))
	}
	kept := earth.NewGrid(reach)
	for _, index := range looks {
		r, later := &n.records[index], (*Record)(nil)
		kept.Near(r.Position, func(k int32) bool {
			if other := &n.records[k]; r.End < other.End && (other.Detected || !r.Detected) && n.options.agree(r, other) {
				later = other
			}
			return later == nil
		})
		if later == nil {
			kept.Add(int32(index), r.Position)
			continue
		}
		n.drop[index] = true
		n.aside[r.File]++
		n.report(r, ruleSeenAgain, "eventDate", seen(r), fmt.Sprintf("the same id was looked at again, %s, at a place that agrees within the positions' uncertainty; this look was set aside", seen(later)))
	}
}

// seen says when a record was made.
func seen(r *Record) string {
	if r.Begin.IsZero() {
		return "on a day not known"
	}
	return dayOrDays(r.Begin, r.End)
}

// holds says whether a record has the id or was given it.
func (n *naming) holds(id string) bool {
	_, found := slices.BinarySearchFunc(n.order, id, func(p place, id string) int {
		return strings.Compare(n.records[p.index].ID, id)
	})
	_, given := n.given[id]
	return found || given
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
