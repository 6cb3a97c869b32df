package part

import (
	"cmp"
	"container/heap"
	"slices"

	"driftreach/internal/aquatic"
	"driftreach/internal/survey"
)

// load is what must be computed in one part as a whole: a group of records, a piece of the zone, or
// a water body of some pieces.
type load struct {
	weight int
	pieces int32 // their number; 0 for a group
	first  int32 // its first cell, or index of the first piece
}

// Deal says in which part each cell and each piece of the zone is computed.
type Deal struct {
	cells  []int32    // by cell: its part, from 0
	Pieces []int32    // by piece
	bodies []PartBody // water bodies with all pieces in one part, by their pieces in the batch
}

// wholeBody is the weight of the heaviest water body that goes to one part as a whole, as a share of a
// part's weight. Our choice: parts stay even.
const wholeBody = 1. / 4

// Deal divides the groups of records and the pieces of the zone among n parts of about equal weight: it
// takes the heaviest first and gives each to the lightest part. A group heavier than a part's share
// makes its part heavier, since groups are never divided. Of the water bodies only heavy ones are. The
// result depends only on the records, their order, and the arguments. It takes the groups over.
func (g *Groups) Deal(pieces []aquatic.Piece, of []aquatic.PiecesOf, n int) Deal {
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
			loads = append(loads, load{int(w), 0, int32(i)})
		}
	}
	ofZone := loadsOf(pieces, of, loads, n)
	loads = append(loads, ofZone...)
	slices.SortStableFunc(loads, func(a, b load) int { return cmp.Compare(b.weight, a.weight) })
	d := Deal{cells: g.weight, Pieces: make([]int32, len(pieces))} // the weights are in loads now
	free := make(byWeight, n)
	for i := range free {
		free[i].number = int32(i)
	}
	for _, l := range loads {
		if l.pieces == 0 {
			d.cells[l.first] = free[0].number
		}
		for i := range l.pieces {
			d.Pieces[l.first+i] = free[0].number
		}
		free[0].weight += l.weight
		heap.Fix(&free, 0)
	}
	for i := range d.cells { // the first cell of a group comes first
		if first := g.of.Find(int32(i)); int(first) != i {
			d.cells[i] = d.cells[first]
		}
	}
	first := int32(0)
	for i := range of {
		n := of[i].Count
		if own := d.Pieces[first : first+n]; slices.Min(own) == slices.Max(own) {
			d.bodies = append(d.bodies, PartBody{Run{first, n}, of[i].Name})
		}
		first += n
	}
	return d
}

// Part returns the part of the records in a cell, from 0.
func (d *Deal) Part(cell int32) int { return int(d.cells[cell]) }

// loadsOf returns the loads of the zone beside those of the groups: light water bodies, and the pieces
// of heavy ones.
func loadsOf(pieces []aquatic.Piece, of []aquatic.PiecesOf, groups []load, n int) []load {
	total := 0
	for _, l := range groups {
		total += l.weight
	}
	for i := range pieces {
		total += weightOfPiece(&pieces[i])
	}
	var out []load
	first := int32(0)
	for k := range of {
		body := load{0, of[k].Count, first}
		for i := range body.pieces {
			one := load{weightOfPiece(&pieces[first+i]), 1, first + i}
			body.weight += one.weight
			out = append(out, one)
		}
		if float64(body.weight) <= wholeBody*float64(total)/float64(n) {
			out = append(out[:len(out)-int(body.pieces)], body)
		}
		first += body.pieces
	}
	return out
}

func weightOfPiece(p *aquatic.Piece) int { return 1 + p.Vertices() }

// Strip removes from a record what is not needed to measure stands: ids and texts.
func Strip(r *survey.Record) { r.ID, r.File, r.Row, r.Notes = "", "", 0, "" }

// GivePieces gives a part its pieces; number counts from 0.
func (d *Deal) GivePieces(p *Part, number int, pieces []aquatic.Piece) {
	bodies := d.bodies
	for i, part := range d.Pieces {
		if len(bodies) > 0 && int(bodies[0].First) < i {
			bodies = bodies[1:]
		}
		if int(part) != number {
			continue
		}
		if len(bodies) > 0 && int(bodies[0].First) == i {
			p.Bodies = append(p.Bodies, PartBody{Run{int32(len(p.Pieces)), bodies[0].Count}, bodies[0].Name})
		}
		p.PieceAt, p.Pieces = append(p.PieceAt, int32(i)), append(p.Pieces, pieces[i])
	}
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
