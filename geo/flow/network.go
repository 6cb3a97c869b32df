package flow

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Edge is a stretch of one line between two nodes, directed downstream. Totals marked union count
// every upstream line once, even where the water divides and joins again.
type Edge struct {
	Line        int32                // index into the lines given to Build
	Start, End  geo.Meters           // geodesic measures along the line as digitised, Start < End
	Flipped     bool                 // flows against the digitising: its upstream end is at End
	Barrier     bool                 // the line's barrier is at its downstream end
	Minor       bool                 // a minor path begins here
	From, To    int32                // nodes
	Component   int32                // connected part, numbered from 0 by the smallest name in it
	Order, Calc int                  // river order; the order passed downstream, 0 below minor paths
	Length      geo.Meters           // recorded length where the line has one, else geodesic
	Share       float64              // of the flow that arrives at From
	OutletKm    geo.Kilometers       // river kilometres from its downstream end to the outlet, along the main path
	UpstreamKm  geo.Kilometers       // union of stream length upstream of its downstream end, including the edge
	Drainage    geo.SquareKilometers // union of the catchments, in the same way; NaN where no line of the component has one
}

// Measure returns the geodesic measure, along the edge's line as digitised, of the place offset
// metres below the edge's upstream end. Offsets run from 0 to Length, measures from Start to End.
func (e Edge) Measure(offset geo.Meters) geo.Meters {
	part := geo.Meters(0)
	if e.Length > 0 {
		part = (e.End - e.Start) * (offset / e.Length)
	}
	if e.Flipped {
		return e.End - part
	}
	return e.Start + part
}

// RiverKm returns the river kilometres to the outlet, along the main path, from the place offset
// metres below the edge's upstream end.
func (e Edge) RiverKm(offset geo.Meters) geo.Kilometers {
	return e.OutletKm + (e.Length - offset).Kilometers()
}

// Node is a place where edges meet.
type Node struct {
	At   orb.Point // degrees, longitude in [-180, 180); (0, 0) where no line at the node has a path
	Stop int32     // number of the obstacle there, which obstructs all edges that enter; 0 for none
}

// Network is a directed stream network without cycles. Edges are in topological order, upstream
// first; edges equally far from the heads are sorted by the name of their line, then by Start. It
// is read-only and safe for concurrent use.
type Network struct {
	Edges      []Edge
	Nodes      []Node
	Components int

	outStart, outEdge   []int32 // edges leaving each node, main path first
	inStart, inEdge     []int32 // edges entering each node, by edge
	lineStart, lineEdge []int32 // edges of each line, by Start
	lineLength          []geo.Meters
}

// Out returns the edges that leave a node, the main path first. Callers must not change the slice.
func (n *Network) Out(node int32) []int32 {
	return n.outEdge[n.outStart[node]:n.outStart[node+1]]
}

// In returns the edges that enter a node. Callers must not change the slice.
func (n *Network) In(node int32) []int32 {
	return n.inEdge[n.inStart[node]:n.inStart[node+1]]
}

// EdgesOf returns the edges of a line, sorted by Start; none when the line was left out. Callers
// must not change the slice.
func (n *Network) EdgesOf(line int32) []int32 {
	return n.lineEdge[n.lineStart[line]:n.lineStart[line+1]]
}

// Down returns the edge that continues the main path below an edge, -1 at an outlet.
func (n *Network) Down(edge int32) int32 {
	if out := n.Downstream(edge); len(out) > 0 {
		return out[0]
	}
	return -1
}

// Downstream returns the edges below the lower end of an edge, the main path first; none at an
// outlet. Callers must not change the slice.
func (n *Network) Downstream(edge int32) []int32 { return n.Out(n.Edges[edge].To) }

// Place is a place on an edge, in metres below its upstream end, 0 to the edge's
// Length.
type Place struct {
	Edge   int32 // -1 for nowhere
	Offset geo.Meters
}

// At returns the place at a geodesic measure along a line as digitised. A measure outside the line
// counts as the nearer end; a measure between two edges belongs to the later edge. A line that was
// left out gives edge -1.
func (n *Network) At(line int32, measure geo.Meters) Place {
	edges := n.EdgesOf(line)
	if len(edges) == 0 {
		return Place{Edge: -1}
	}
	i := len(edges) - 1
	for i > 0 && measure < n.Edges[edges[i]].Start {
		i--
	}
	e := &n.Edges[edges[i]]
	offset := min(max(measure, e.Start), e.End) - e.Start
	if e.Flipped {
		offset = e.End - e.Start - offset
	}
	if span := e.End - e.Start; span > 0 && span != e.Length {
		offset = min(offset*(e.Length/span), e.Length)
	}
	return Place{Edge: edges[i], Offset: offset}
}

// LineLength returns the geodesic length of a line as measured at Build.
func (n *Network) LineLength(line int32) geo.Meters { return n.lineLength[line] }
