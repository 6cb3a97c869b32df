package stream

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
)

// Network is the network of the centerlines, directed downstream. Slices described as "by edge"
// have one entry for each of Net.Edges.
type Network struct {
	Net   *flow.Network
	Lines []Centerline // nil once Pack has run: see Line
	Paths linear.Lines // by edge: its piece of the centerline, downstream, degrees
	Drawn linear.Lines // by line: its path
	Order []int        // by edge: the recorded stream order, or the computed one
	Found [][]string   // by line: the kinds of trouble it has, sorted

	Surfaces   []Surface   // lakes and wide rivers drawn as areas
	On         []int32     // by edge: index of its surface, -1 for none
	Structures []Structure // point barriers; a node's Stop is an index here, counted from 1

	packed *packedLines // Lines, once Pack has run
}

// lay sets the path of each edge of a line, downstream, and its order.
func (n *Network) lay(paths []orb.LineString, line int32) {
	path := n.Lines[line].Path
	edges := n.Net.EdgesOf(line)
	var measures []geo.Meters
	if len(edges) > 1 {
		measures = earth.LengthsAlong(path)
	}
	for _, e := range edges {
		edge := &n.Net.Edges[e]
		paths[e] = path
		if measures != nil {
			paths[e] = linear.Cut(path, measures, edge.Start, edge.End)
		}
		if edge.Flipped {
			paths[e] = slices.Clone(paths[e])
			slices.Reverse(paths[e])
		}
		n.Order[e] = n.Lines[line].Order
		if n.Order[e] == 0 {
			n.Order[e] = max(1, edge.Order)
		}
	}
}

// Pack keeps the paths of lines and edges in little memory, or, if put is not nil, wherever put puts
// texts. Lines is nil then, and Line returns each. The error is one of put.
func (n *Network) Pack(put func(text []byte) (linear.Far, error)) (err error) {
	packer := linear.Packer{Put: put}
	lines, edges := make([]int32, len(n.Lines)), make([]int32, n.Paths.Len())
	for i := range n.Lines {
		lines[i] = packer.Add(n.Lines[i].Path)
	}
	for e := range edges {
		edge := &n.Net.Edges[e]
		switch line := lines[edge.Line]; {
		case len(n.Net.EdgesOf(edge.Line)) > 1:
			edges[e] = packer.Add(n.Paths.At(e))
		case edge.Flipped:
			edges[e] = ^line
		default:
			edges[e] = line
		}
	}
	if n.Drawn, err = packer.Lines(lines); err == nil {
		n.Paths, err = packer.Lines(edges)
	}
	n.packed, n.Lines = packLines(n.Lines), nil
	return err
}

// fall returns from the recorded slope whether the line, as digitised, falls (1) or rises (-1); 0
// for unknown.
func (l *Centerline) fall() int8 {
	switch {
	case l.Rises:
		return -1
	case l.Slope > 0:
		return 1
	}
	return 0
}

// BarrierAt returns the barrier at the downstream end of an edge, and its recorded pass share, NaN
// for none. A point barrier takes precedence over the line's own.
func (n *Network) BarrierAt(edge int32) (Barrier, geo.Share) {
	if number := n.Net.Stopped(edge); number > 0 {
		return n.Structures[number-1].Kind, n.Structures[number-1].Pass
	}
	e := &n.Net.Edges[edge]
	if !e.Barrier {
		return NoBarrier, 1
	}
	line := n.Line(e.Line)
	return line.Barrier, line.BarrierPass
}
