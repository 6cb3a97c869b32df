package stretch

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/stream"
)

// Grid is all cells of a network, by edge and then downstream.
type Grid struct {
	Stretches []Stretch // without their history
	Cells     []GridCell
	near      *linear.Index // of the stretches, built on first use
	onEdge    []int32       // by edge: index of its first cell in Cells; one more entry at the end
}

// GridCell is one cell with its place on the network.
type GridCell struct {
	Stretch int32 // index into Stretches
	Cell    int32 // number of the cell in the stretch
	Piece   flow.Piece
	Middle  flow.Place // of the whole cell, which may continue on another edge
	Length  geo.Meters // of the piece on this edge
}

// NewGrid divides a network into the same stretches and cells as Find. A cell over several edges
// has one piece on each.
func NewGrid(net *stream.Network, s Settings) *Grid {
	g := &Grid{}
	var pieces []flow.Piece
	cuts, stretches := cutAll(net, s)
	g.Stretches = stretches
	for i, one := range cuts {
		stretches[i].Drawn = &Drawn{Path: one.line(net)}
		for c := range one.cells {
			middle := one.middle(net, c)
			pieces = one.appendCell(pieces[:0], net, c)
			for _, p := range pieces {
				g.Cells = append(g.Cells, GridCell{int32(i), int32(c), p, middle, p.To - p.From})
			}
		}
	}
	slices.SortStableFunc(g.Cells, func(a, b GridCell) int {
		return cmp.Or(cmp.Compare(a.Piece.Edge, b.Piece.Edge), cmp.Compare(a.Piece.From, b.Piece.From))
	})
	g.onEdge = make([]int32, len(net.Net.Edges)+1)
	for _, c := range g.Cells {
		g.onEdge[c.Piece.Edge+1]++
	}
	for e := range net.Net.Edges {
		g.onEdge[e+1] += g.onEdge[e]
	}
	return g
}

// Pieces returns the pieces of all cells, in the form drift.ExposureOn takes.
func (g *Grid) Pieces() []flow.Piece {
	out := make([]flow.Piece, len(g.Cells))
	for i := range g.Cells {
		out[i] = g.Cells[i].Piece
	}
	return out
}

// At returns the index of the cell that contains a place; -1 for none.
func (g *Grid) At(place flow.Place) int32 {
	if place.Edge < 0 {
		return -1
	}
	here := g.Cells[g.onEdge[place.Edge]:g.onEdge[place.Edge+1]]
	if len(here) == 0 {
		return -1
	}
	i, _ := slices.BinarySearchFunc(here, place.Offset, func(c GridCell, at geo.Meters) int { return cmp.Compare(c.Piece.To, at) })
	return g.onEdge[place.Edge] + int32(min(i, len(here)-1))
}

// On returns the indices of the cells on a piece of one edge.
func (g *Grid) On(p flow.Piece) []int32 {
	var out []int32
	for i := g.onEdge[p.Edge]; i < g.onEdge[p.Edge+1]; i++ {
		if c := g.Cells[i].Piece; c.To > p.From && c.From < p.To {
			out = append(out, i)
		}
	}
	return out
}

// Banks returns, by cell of the grid, the state of the banks stored by a batch; ok is false for a
// cell on none of its streams.
func (m *Memory) Banks(net *stream.Network, g *Grid) (banks [][2]Bank, ok []bool) {
	banks, ok = make([][2]Bank, len(g.Cells)), make([]bool, len(g.Cells))
	past := newPast(m)
	for i := range g.Cells {
		cell, kept := past.at(PointAt(net, g.Cells[i].Middle))
		banks[i], ok[i] = cell.Banks, kept
	}
	return banks, ok
}

// PointAt returns the position of a place on the network, in degrees.
func PointAt(net *stream.Network, at flow.Place) orb.Point {
	path, measures := net.Paths.Measured(int(at.Edge))
	return linear.PointAt(path, measures, measureAt(net, measures, at.Edge, at.Offset))
}

// Sampled says which stretches are in the random part of the list with the given settings. This
// depends only on their ids and the seed.
func (g *Grid) Sampled(s Settings) []bool {
	all := slices.Clone(g.Stretches)
	sample(all, s)
	out := make([]bool, len(all))
	for i := range all {
		out[i] = all[i].Draw > 0
	}
	return out
}

// Nearest returns the stretch nearest to a place, in degrees, and its distance; false where there
// is none.
func (g *Grid) Nearest(p orb.Point) (stretch int32, away geo.Meters, ok bool) {
	if g.near == nil {
		paths := make([]orb.LineString, len(g.Stretches))
		for i := range paths {
			paths[i] = g.Stretches[i].Path
		}
		g.near = linear.NewIndex(paths)
	}
	near, ok := g.near.Nearest(p)
	return near.Line, near.Distance, ok
}
