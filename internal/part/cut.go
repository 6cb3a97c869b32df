package part

import (
	"cmp"
	"container/heap"
	"slices"

	"driftreach/internal/aquatic"
	"driftreach/internal/survey"
)

// load is what must be computed in one part as a whole: a group of records, or a piece of the zone.
type load struct {
	weight int
	piece  bool
	first  int32 // its first cell, or index of the piece
}

// Deal says in which part each cell and each piece of the zone is computed.
type Deal struct {
	cells  []int32 // by cell: its part, from 0
	Pieces []int32 // by piece
}

// Deal divides the groups of records and the pieces of the zone among n parts of about equal weight: it
// takes the heaviest first and gives each to the lightest part. A group heavier than a part's share
// makes its part heavier, since groups are never cut. The result depends only on the records, their
// order, and the arguments. It takes the groups over.
func (g *Groups) Deal(pieces []aquatic.Piece, n int) Deal {
	g.slots, g.cells = nil, nil
	for i := range g.weight {
		if first := g.of.Find(int32(i)); int(first) != i {
			g.weight[first] += g.weight[i]
			g.weight[i] = 0
		}
	}
	var loads []load
	for i, w := range g.weight {
		if w > 0 {
			loads = append(loads, load{int(w), false, int32(i)})
		}
	}
	for i := range pieces {
		loads = append(loads, load{weightOfPiece(&pieces[i]), true, int32(i)})
	}
	slices.SortStableFunc(loads, func(a, b load) int { return cmp.Compare(b.weight, a.weight) })
	d := Deal{cells: g.weight, Pieces: make([]int32, len(pieces))} // the weights are in loads now
	free := make(byWeight, n)
	for i := range free {
		free[i].number = int32(i)
	}
	for _, l := range loads {
		if l.piece {
			d.Pieces[l.first] = free[0].number
		} else {
			d.cells[l.first] = free[0].number
		}
		free[0].weight += l.weight
		heap.Fix(&free, 0)
	}
	for i := range d.cells { // the first cell of a group comes first
		if first := g.of.Find(int32(i)); int(first) != i {
			d.cells[i] = d.cells[first]
		}
	}
	return d
}

// Part returns the part of the records in a cell, from 0.
func (d *Deal) Part(cell int32) int { return int(d.cells[cell]) }

func weightOfPiece(p *aquatic.Piece) int { return 1 + p.Vertices() }

// Strip removes from a record what is not needed to measure stands: ids and texts.
func Strip(r *survey.Record) { r.ID, r.File, r.Row, r.Notes = "", "", 0, nil }

// PiecesOf returns the pieces of the part with the given number, from 0, and their indices.
func (d *Deal) PiecesOf(number int, pieces []aquatic.Piece) (at []int32, out []aquatic.Piece) {
	for i, part := range d.Pieces {
		if int(part) == number {
			at, out = append(at, int32(i)), append(out, pieces[i])
		}
	}
	return at, out
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
