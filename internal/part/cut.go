package part

import (
	"cmp"
	"container/heap"
	"slices"

	"driftreach/internal/aquatic"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// load is what is made in one part or in none: a group of records, or a piece of the zone.
type load struct {
	weight int
	piece  bool
	first  int32 // its first record, or the piece
}

// Deal says which part each record and each piece of the zone is made in.
type Deal struct {
	Records []int32 // by record: its part, from 0; -1 for one of no stand
	Pieces  []int32 // by piece
}

// NewDeal deals the groups of records and the pieces out among n parts of about even
// weight: the heaviest first, each to the part that has least. A group of more than a
// part's share makes its part heavier; no group is cut. The answer is a function of what
// is dealt alone.
func NewDeal(records []survey.Record, pieces []aquatic.Piece, rules stand.Settings, n int) Deal {
	group := groups(records, rules.JoinDistance)
	weight := make([]int, len(records))
	for i, first := range group {
		if first >= 0 {
			weight[first] += weightOf(&records[i])
		}
	}
	var loads []load
	for i, w := range weight {
		if w > 0 {
			loads = append(loads, load{w, false, int32(i)})
		}
	}
	for i := range pieces {
		loads = append(loads, load{weightOfPiece(&pieces[i]), true, int32(i)})
	}
	slices.SortStableFunc(loads, func(a, b load) int { return cmp.Compare(b.weight, a.weight) })
	d := Deal{Records: make([]int32, len(records)), Pieces: make([]int32, len(pieces))}
	free := make(byWeight, n)
	for i := range free {
		free[i].number = int32(i)
	}
	for _, l := range loads {
		if l.piece {
			d.Pieces[l.first] = free[0].number
		} else {
			d.Records[l.first] = free[0].number
		}
		free[0].weight += l.weight
		heap.Fix(&free, 0)
	}
	for i, first := range group { // a group's first record comes first
		switch {
		case first < 0:
			d.Records[i] = -1
		case int(first) != i:
			d.Records[i] = d.Records[first]
		}
	}
	return d
}

// perRecord is what a record weighs where a vertex of the zone's weighs 1: stands take
// 60 us of processor time a record and the zone 14 us a vertex (the stages of a batch of
// 20,000 points and 2,000 lines, 2026-11-27).
const perRecord = 4

// weightOf is what a record weighs, with the vertices of a patch that was drawn.
func weightOf(r *survey.Record) int {
	w := perRecord
	for _, polygon := range r.Outline {
		for _, ring := range polygon {
			w += len(ring)
		}
	}
	return w
}

func weightOfPiece(p *aquatic.Piece) int {
	w := 1
	for _, path := range p.Paths {
		w += len(path)
	}
	for _, polygon := range p.Water {
		for _, ring := range polygon {
			w += len(ring)
		}
	}
	return w
}

// Strip takes off records what measures no stand of them: ids and words.
func Strip(records []survey.Record) {
	for i := range records {
		r := &records[i]
		r.ID, r.File, r.Row, r.Notes = "", "", 0, nil
	}
}

// Part returns what the part of a number, from 0, is made from. The records are
// stripped.
func (d *Deal) Part(number int, records []survey.Record, pieces []aquatic.Piece, rules stand.Settings) Part {
	p := Part{Rules: rules}
	n := 0
	for _, part := range d.Records {
		if int(part) == number {
			n++
		}
	}
	p.At, p.Records = make([]int32, 0, n), make([]survey.Record, 0, n)
	for i, part := range d.Records {
		if int(part) != number {
			continue
		}
		p.At, p.Records = append(p.At, int32(i)), append(p.Records, records[i])
	}
	for i, part := range d.Pieces {
		if int(part) == number {
			p.PieceAt, p.Pieces = append(p.PieceAt, int32(i)), append(p.Pieces, pieces[i])
		}
	}
	return p
}

// byWeight is a heap of parts, that of least weight first, of several the first.
type byWeight []struct {
	weight int
	number int32
}

// Len is of heap.Interface.
func (h byWeight) Len() int { return len(h) }

// Less is of heap.Interface.
func (h byWeight) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(h[i].weight, h[j].weight), cmp.Compare(h[i].number, h[j].number)) < 0
}

// Swap is of heap.Interface.
func (h byWeight) Swap(i, j int) { h[i], h[j] = h[j], h[i] }

// Push is of heap.Interface; there are as many parts as there are.
func (h *byWeight) Push(any) {}

// Pop is of heap.Interface.
func (h *byWeight) Pop() any { return nil }
