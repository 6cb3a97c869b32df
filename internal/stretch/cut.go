package stretch

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/stream"
)

// cellLength is the approximate length of a cell. Our choice: what one look along a bank covers,
// and short compared with the ground looked at around a stand.
const cellLength geo.Meters = 50

// cut is the place of a stretch on the network.
type cut struct {
	on     *chain     // the chain it is part of
	from   geo.Meters // measure on the chain where it begins
	to     geo.Meters // and where it ends
	length geo.Meters
	cells  int // number of its cells
}

// appendPieces appends the parts of the edges that it lies on, downstream.
func (c *cut) appendPieces(out []flow.Piece, net *stream.Network) []flow.Piece {
	return c.on.appendPieces(out, net, c.from, c.to)
}

// appendCell appends the pieces of one cell.
func (c *cut) appendCell(out []flow.Piece, net *stream.Network, i int) []flow.Piece {
	return c.on.appendPieces(out, net, c.at(float64(i)), c.at(float64(i+1)))
}

// at returns the measure along the chain after a number of cells.
func (c *cut) at(cells float64) geo.Meters {
	return c.from + c.length*geo.Meters(cells)/geo.Meters(c.cells)
}

// middle returns the middle of one cell.
func (c *cut) middle(net *stream.Network, i int) flow.Place {
	return c.on.place(net, c.at(float64(i)+0.5))
}

// chain is a sequence of edges without a confluence or divergence in between.
type chain struct {
	edges []int32
	ends  []geo.Meters // by edge: measure along the chain of its lower end
}

// cutAll divides every stream into stretches, in flow order. They have no line and no cells yet.
func cutAll(net *stream.Network, s Settings) (cuts []cut, stretches []Stretch) {
	numbers := map[int32]int{} // by line: stretches that begin on it, so far
	all, count := chains(net), 0
	for k := range all {
		count += all[k].parts(s)
	}
	cuts, stretches = make([]cut, 0, count), make([]Stretch, 0, count)
	var room []flow.Piece
	for k := range all {
		c := &all[k]
		total, n := c.length(), c.parts(s)
		at := func(i int) geo.Meters { return total * geo.Meters(i) / geo.Meters(n) }
		for i := range n {
			one := c.cut(at(i), at(i+1))
			room = one.appendPieces(room[:0], net)
			is := one.stretch(net, room)
			line := is.Lines[0]
			numbers[line]++
			is.ID = fmt.Sprintf("%s/%d", net.Line(line).ID, numbers[line])
			cuts, stretches = append(cuts, one), append(stretches, is)
		}
	}
	return cuts, stretches
}

func (c *chain) length() geo.Meters { return c.ends[len(c.ends)-1] }

// parts returns how many stretches the chain is cut into: none where it has no length.
func (c *chain) parts(s Settings) int {
	total := c.length()
	if total <= 0 {
		return 0
	}
	return max(1, int(math.Ceil(float64(total.Kilometers()/s.Length)-1e-9)))
}

// chains returns the network's chains; each edge is in exactly one.
func chains(net *stream.Network) []chain {
	taken := make([]bool, len(net.Net.Edges))
	var out []chain
	for e := range net.Net.Edges {
		if taken[e] {
			continue
		}
		var c chain
		end := geo.Meters(0)
		for at := int32(e); at >= 0 && !taken[at]; at = onward(net, at) {
			taken[at] = true
			end += net.Net.Edges[at].Length
			c.edges, c.ends = append(c.edges, at), append(c.ends, end)
		}
		out = append(out, c)
	}
	return out
}

// onward returns the only edge that continues another edge on the same water body; -1 for none.
func onward(net *stream.Network, e int32) int32 {
	node := net.Net.Edges[e].To
	below := net.Net.Out(node)
	if len(below) != 1 || len(net.Net.In(node)) != 1 || net.LineName(net.Net.Edges[below[0]].Line) != net.LineName(net.Net.Edges[e].Line) {
		return -1
	}
	return below[0]
}

// cut returns what lies between two measures along the chain.
func (c *chain) cut(from, to geo.Meters) cut {
	return cut{
		on: c, from: from, to: to, length: to - from,
		cells: max(1, int(math.Round(float64((to-from)/cellLength)))),
	}
}

// stretch returns the stretch of some pieces, without a name and a line.
func (c *cut) stretch(net *stream.Network, pieces []flow.Piece) Stretch {
	first, last := pieces[0], pieces[len(pieces)-1]
	out := Stretch{
		Length: c.length,
		FromKm: geo.Kilometers(net.Net.Edges[first.Edge].RiverKm(first.From)),
		ToKm:   geo.Kilometers(net.Net.Edges[last.Edge].RiverKm(last.To)),
	}
	for _, p := range pieces {
		if line := net.Net.Edges[p.Edge].Line; !slices.Contains(out.Lines, line) {
			out.Lines = append(out.Lines, line)
		}
	}
	return out
}

// line returns the line of the stretch.
func (c *cut) line(net *stream.Network) (out orb.LineString) {
	pieces := c.appendPieces(nil, net)
	for _, p := range pieces {
		path := pathOf(net, p)
		if n := len(out); n > 0 && out[n-1] == path[0] {
			path = path[1:]
		}
		if len(pieces) == 1 {
			return path
		}
		out = append(out, path...)
	}
	return out
}

// appendPieces appends the parts of the edges between two measures along the chain, at least one.
func (c *chain) appendPieces(out []flow.Piece, net *stream.Network, from, to geo.Meters) []flow.Piece {
	before := len(out)
	first, _ := slices.BinarySearch(c.ends, from)
	for k := first; k < len(c.edges); k++ {
		length := net.Net.Edges[c.edges[k]].Length
		upper := c.ends[k] - length
		p := flow.Piece{Edge: c.edges[k], From: max(0, from-upper), To: min(length, to-upper)}
		if p.To > p.From {
			out = append(out, p)
		}
		if c.ends[k] >= to {
			break
		}
	}
	if len(out) == before {
		at := c.place(net, from)
		return append(out, flow.Piece{Edge: at.Edge, From: at.Offset, To: at.Offset})
	}
	return out
}

// place returns the place at a measure along the chain.
func (c *chain) place(net *stream.Network, at geo.Meters) flow.Place {
	k, _ := slices.BinarySearch(c.ends, at)
	k = min(k, len(c.edges)-1)
	length := net.Net.Edges[c.edges[k]].Length
	return flow.Place{Edge: c.edges[k], Offset: min(length, max(0, at-(c.ends[k]-length)))}
}

// pathOf returns the line of a piece, degrees. That of a whole edge is the network's own.
func pathOf(net *stream.Network, p flow.Piece) orb.LineString {
	path, measures := net.Paths.Measured(int(p.Edge))
	piece := linear.Cut(path, measures, measureAt(net, measures, p.Edge, p.From), measureAt(net, measures, p.Edge, p.To))
	if slices.Equal(piece, path) {
		return path[:len(path):len(path)]
	}
	return piece
}

// measureAt converts an offset on an edge, in recorded length, to a measure along the edge's path.
func measureAt(net *stream.Network, measures []geo.Meters, e int32, offset geo.Meters) geo.Meters {
	length := net.Net.Edges[e].Length
	if length <= 0 || len(measures) == 0 {
		return 0
	}
	return measures[len(measures)-1] * (offset / length)
}
