package stream

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"driftreach/geo"
)

// naming is a batch whose ids are being made unique.
type naming struct {
	*checker
	lines []Centerline
	order []int           // by id
	made  map[int]bool    // lines whose id was made from file and row
	given map[string]bool // new ids
	kept  []Centerline
}

// unify sorts the lines by id and makes the ids unique: of exact copies one
// stays; of different lines with one id the first by content keeps it and
// the others get "~2", "~3".
func (c *checker) unify(lines []Centerline, made map[int]bool) []Centerline {
	n := naming{c, lines, make([]int, len(lines)), made, map[string]bool{}, make([]Centerline, 0, len(lines))}
	for i := range n.order {
		n.order[i] = i
	}
	slices.SortFunc(n.order, func(a, b int) int { return compareLines(&lines[a], &lines[b]) })
	for first := 0; first < len(n.order); {
		last := first + 1
		for last < len(n.order) && lines[n.order[last]].ID == lines[n.order[first]].ID {
			last++
		}
		n.part(first, last)
		first = last
	}
	if len(n.given) > 0 {
		slices.SortFunc(n.kept, func(a, b Centerline) int { return compareLines(&a, &b) })
	}
	return n.kept
}

// part keeps the lines order[first:last], which share one id, under ids of their own.
func (n *naming) part(first, last int) {
	id, next := n.lines[n.order[first]].ID, 2
	n.kept = append(n.kept, n.lines[n.order[first]])
	for k := first + 1; k < last; k++ {
		index, before := n.order[k], n.order[k-1]
		l := n.lines[index]
		if !n.made[index] && !n.made[before] && compareContent(&l, &n.lines[before]) == 0 {
			n.report(&l, ruleDuplicate, "", "", "the line is there twice, the same in every field; the copy was rejected")
			continue
		}
		fresh := ""
		for ; fresh == "" || n.holds(fresh); next++ {
			fresh = id + "~" + strconv.Itoa(next)
		}
		n.given[fresh] = true
		if !n.made[index] {
			n.report(&l, ruleSameID, "stream_id", id, "another line has the same id; this one is now "+fresh)
		}
		l.ID = fresh
		n.kept = append(n.kept, l)
	}
}

// holds says whether a line has the id or was given it.
func (n *naming) holds(id string) bool {
	_, found := slices.BinarySearchFunc(n.order, id, func(i int, id string) int {
		return strings.Compare(n.lines[i].ID, id)
	})
	return found || n.given[id]
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
	if c := slices.CompareFunc(a.Path, b.Path, geo.ComparePoints); c != 0 {
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
		geo.CompareBools(a.Rises, b.Rises),
		cmp.Compare(a.Barrier, b.Barrier),
		cmp.Compare(a.BarrierPass, b.BarrierPass),
		cmp.Compare(a.Length, b.Length),
		cmp.Compare(a.LocalArea, b.LocalArea),
		strings.Compare(a.FeatureType, b.FeatureType),
		cmp.Compare(a.Permanence, b.Permanence),
	)
}
