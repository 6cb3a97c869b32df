package stream

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// unify sorts the lines by id and makes the ids unique: of exact copies one
// stays; of different lines with one id the first by content keeps it and
// the others get "~2", "~3".
func (c *checker) unify(lines []Centerline, made map[int]bool) []Centerline {
	order := make([]int, len(lines))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return compareLines(&lines[a], &lines[b]) })
	given := map[string]bool{}
	kept := make([]Centerline, 0, len(lines))
	for first := 0; first < len(order); {
		last := first + 1
		for last < len(order) && lines[order[last]].ID == lines[order[first]].ID {
			last++
		}
		kept = append(kept, c.part(lines, order, first, last, made, given)...)
		first = last
	}
	if len(given) > 0 {
		slices.SortFunc(kept, func(a, b Centerline) int { return compareLines(&a, &b) })
	}
	return kept
}

// part returns lines[order[first:last]], which share one id, under ids of their own.
func (c *checker) part(lines []Centerline, order []int, first, last int, made map[int]bool, given map[string]bool) []Centerline {
	id := lines[order[first]].ID
	kept := []Centerline{lines[order[first]]}
	next := 2
	for k := first + 1; k < last; k++ {
		l, own := lines[order[k]], made[order[k]]
		if !own && !made[order[k-1]] && compareContent(&l, &lines[order[k-1]]) == 0 {
			c.report(&l, ruleDuplicate, "", "", "the line is there twice, the same in every field; the copy was rejected")
			continue
		}
		name := ""
		for ; name == "" || given[name] || holds(lines, order, name); next++ {
			name = id + "~" + strconv.Itoa(next)
		}
		given[name] = true
		if !own {
			c.report(&l, ruleSameID, "stream_id", id, fmt.Sprintf("another line has the same id; this one is now %s", name))
		}
		l.ID = name
		kept = append(kept, l)
	}
	return kept
}

func holds(lines []Centerline, order []int, id string) bool {
	_, found := slices.BinarySearchFunc(order, id, func(i int, id string) int {
		return strings.Compare(lines[i].ID, id)
	})
	return found
}

// compareLines orders lines by id, then content, then file and row, which
// tell only exact copies apart.
func compareLines(a, b *Centerline) int {
	if c := strings.Compare(a.ID, b.ID); c != 0 {
		return c
	}
	return cmp.Or(compareContent(a, b), strings.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
}

// compareContent orders lines by everything they say, file, row and id apart.
func compareContent(a, b *Centerline) int {
	if c := slices.CompareFunc(a.Path, b.Path, comparePoint); c != 0 {
		return c
	}
	return cmp.Or(
		strings.Compare(a.Name, b.Name),
		strings.Compare(a.FromNode, b.FromNode),
		strings.Compare(a.ToNode, b.ToNode),
		cmp.Compare(a.Sequence, b.Sequence),
		cmp.Compare(a.Divergence, b.Divergence),
		cmp.Compare(a.FlowShare, b.FlowShare),
		cmp.Compare(a.Order, b.Order),
		cmp.Compare(a.BankfullWidth, b.BankfullWidth),
		cmp.Compare(a.MeanVelocity, b.MeanVelocity),
		cmp.Compare(a.Drainage, b.Drainage),
		cmp.Compare(a.Discharge, b.Discharge),
		cmp.Compare(a.MeanDischarge, b.MeanDischarge),
		cmp.Compare(a.Slope, b.Slope),
		cmp.Compare(a.Barrier, b.Barrier),
		cmp.Compare(a.BarrierPass, b.BarrierPass),
		cmp.Compare(a.Length, b.Length),
		cmp.Compare(a.LocalArea, b.LocalArea),
	)
}

func comparePoint(a, b orb.Point) int {
	return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
}
