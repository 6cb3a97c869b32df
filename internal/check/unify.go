package check

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// place is one record's place in the order by id. head holds the first eight bytes of its id after the
// prefix that all ids share, so that most comparisons need not read the strings.
type place struct {
	head  uint64
	index int
}

// union is the state of Unify.
type union[R any] struct {
	*Checker[R]
	records []R
	order   []place        // by id, content, file and row
	given   map[string]int // new ids, and the index of the record for each
	drop    map[int]bool   // copies, and the records that Settle did not keep
}

// Unify sorts the records that Accept returned, by id and content (or only by content if the kind has
// no ids), and makes them unique. Of exact copies one is kept. Of different records with the same id
// those that Settle returns are kept; the first keeps the id, the others get "~2", "~3" added. Unify
// takes the slice over. The result depends on the set of records, not on their order. It takes n log n
// time.
func (c *Checker[R]) Unify(records []R) []R {
	u := union[R]{c, records, c.sorted(records), map[string]int{}, map[int]bool{}}
	for first := 0; first < len(u.order); {
		last := first + 1
		for last < len(u.order) && u.id(last) == u.id(first) {
			last++
		}
		if last-first > 1 {
			u.part(first, last)
		}
		first = last
	}
	for id, index := range u.given { // set last, because the sorted order depends on the old ids
		*c.Names.ID(&records[index]) = id
	}
	if len(u.drop) > 0 {
		u.order = slices.DeleteFunc(u.order, func(p place) bool { return u.drop[p.index] })
	}
	records = arrange(records, u.order)
	if len(u.given) > 0 {
		records = arrange(records, c.sorted(records))
	}
	return records
}

// id returns the id of the record at place k of the order; blank if the kind has no ids.
func (u *union[R]) id(k int) string {
	if u.Names == nil {
		return ""
	}
	return *u.Names.ID(&u.records[u.order[k].index])
}

// part handles the records order[first:last], which share one id.
func (u *union[R]) part(first, last int) {
	u.dropCopies(first, last)
	if u.Names == nil {
		return
	}
	var alike []int
	for _, p := range u.order[first:last] {
		if !u.drop[p.index] {
			alike = append(alike, p.index)
		}
	}
	if u.Settle != nil {
		stay := u.Settle(u.records, slices.Clone(alike))
		for _, index := range alike {
			u.drop[index] = true
		}
		for _, index := range stay {
			delete(u.drop, index)
		}
		alike = stay
	}
	u.rename(u.id(first), alike[1:])
}

// dropCopies reports exact copies and drops them. Records whose ids were made are not treated as
// copies: they come from two files with the same base name.
func (u *union[R]) dropCopies(first, last int) {
	text := cmp.Or(u.Copied, "the "+u.Noun+" is there twice, the same in every field; the copy was rejected")
	for k := first + 1; k < last; k++ {
		index, before := u.order[k].index, u.order[k-1].index
		r := &u.records[index]
		if u.Names != nil && (u.made[index] || u.made[before]) || !u.same(&u.records[before], r) {
			continue
		}
		if !u.KeepCopies {
			u.drop[index] = true
		}
		u.Report(r, u.Duplicate, "", "", text)
	}
}

// rename gives new ids to records that share an id with another.
func (u *union[R]) rename(id string, others []int) {
	text := cmp.Or(u.Names.Other, "another "+u.Noun+" has the same id")
	next := 2
	for _, index := range others {
		fresh := ""
		for ; fresh == "" || u.holds(fresh); next++ {
			fresh = id + "~" + strconv.Itoa(next)
		}
		if !u.made[index] {
			u.Report(&u.records[index], u.Names.SameID, u.Names.Field, id, text+"; this one is now "+fresh)
		}
		u.given[fresh] = index
	}
}

// holds says whether any record has the id, old or new.
func (u *union[R]) holds(id string) bool {
	_, found := slices.BinarySearchFunc(u.order, id, func(p place, id string) int {
		return u.Names.compare(*u.Names.ID(&u.records[p.index]), id)
	})
	_, given := u.given[id]
	return found || given
}

// compare orders ids.
func (n *Names[R]) compare(a, b string) int {
	if n.Compare != nil {
		return n.Compare(a, b)
	}
	return strings.Compare(a, b)
}

// sorted returns the records in the order of id, then content, then file and row. Only exact copies
// need the last two.
func (c *Checker[R]) sorted(records []R) []place {
	order := make([]place, len(records))
	ordered := c.Names != nil && c.Names.Compare == nil // ids are compared by bytes
	shared := 0
	if ordered {
		shared = c.sharedPrefix(records)
	}
	for i := range records {
		order[i].index = i
		if ordered {
			order[i].head = head((*c.Names.ID(&records[i]))[shared:])
		}
	}
	slices.SortFunc(order, func(a, b place) int {
		if a.head != b.head {
			return cmp.Compare(a.head, b.head)
		}
		x, y := &records[a.index], &records[b.index]
		if c.Names != nil {
			if order := c.Names.compare(*c.Names.ID(x), *c.Names.ID(y)); order != 0 {
				return order
			}
		}
		return cmp.Or(c.Compare(x, y), c.compareOrigins(x, y), cmp.Compare(a.index, b.index))
	})
	return order
}

// sharedPrefix returns the length in bytes of the prefix that all ids share.
func (c *Checker[R]) sharedPrefix(records []R) int {
	if len(records) == 0 {
		return 0
	}
	first := *c.Names.ID(&records[0])
	n := len(first)
	for i := range records {
		id := *c.Names.ID(&records[i])
		n = min(n, len(id))
		for k := n - 1; k >= 0; k-- {
			if id[k] != first[k] {
				n = k
			}
		}
	}
	return n
}

// head packs the first eight bytes of s into a number that compares like the bytes. A shorter s is
// padded with zeros. If two heads are equal, the strings must still be compared.
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

// arrange moves records[order[i].index] to index i for all i, in place. It destroys order. Records that
// are not in order are lost.
func arrange[R any](records []R, order []place) []R {
	if len(order) < len(records) {
		all := make([]R, len(order))
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
