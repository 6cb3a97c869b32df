package part

import (
	"cmp"
	"container/heap"
	"slices"

	"driftreach/internal/aquatic"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// load is what must be computed in one part as a whole: a group of records, or a piece of the zone.
type load struct {
	weight int
	piece  bool
	first  int32 // index of its first record, or of the piece
}

// Deal says in which part each record and each piece of the zone is computed.
type Deal struct {
	Records []int32 // by record: its part, from 0; -1 for a record in no stand
	Pieces  []int32 // by piece
}

// NewDeal divides the groups of records and the pieces of the zone among n parts of about equal weight:
// it takes the heaviest first and gives each to the lightest part. A group heavier than a part's share
// makes its part heavier, since groups are never cut. The result depends only on the arguments.
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
	for i, first := range group { // the first record of a group comes first
		switch {
		case first < 0:
			d.Records[i] = -1
		case int(first) != i:
			d.Records[i] = d.Records[first]
		}
	}
	return d
}

// perRecord is the weight of a record, if the weight of a vertex of the zone is 1. Stands take 60 us of
// processor time a record, and the zone 14 us a vertex (the stages of a batch of 20,000 points and
// 2,000 lines, 2026-11-27).
const perRecord = 4

// weightOf returns the weight of a record, with the vertices of a drawn patch.
func weightOf(r *survey.Record) int {
	w := perRecord
	for _, polygon := range r.Outline {
		for _, ring := range polygon {
			w += len(ring)
		}
	}
	return w
}

func weightOfPiece(p *aquatic.Piece) int { return 1 + p.Vertices() }

// Strip removes from records what is not needed to measure stands: ids and texts.
func Strip(records []survey.Record) {
	for i := range records {
		r := &records[i]
		r.ID, r.File, r.Row, r.Notes = "", "", 0, nil
	}
}

// Part returns the input of the part with the given number, from 0. The records must be stripped.
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

// byWeight is a heap of parts, the lightest first, and of equal ones the first.
type byWeight []struct {
	weight int
	number int32
}

// Len implements heap.Interface.
func (h byWeight) Len() int { return len(h) }

// Less implements heap.Interface.
func (h byWeight) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(h[i].weight, h[j].weight), cmp.Compare(h[i].number, h[j].number)) < 0
}

// Swap implements heap.Interface.
func (h byWeight) Swap(i, j int) { h[i], h[j] = h[j], h[i] }

// Push implements heap.Interface; it is never needed, since the number of parts is fixed.
func (h *byWeight) Push(any) {}

// Pop implements heap.Interface; it is never needed.
func (h *byWeight) Pop() any { return nil }
