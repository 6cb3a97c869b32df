package stream

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// Network is the network of the centerlines, directed downstream. Slices described as "by edge"
// have one entry for each of Net.Edges.
type Network struct {
	Net   *flow.Network
	Lines []Centerline
	Paths []orb.LineString // by edge: its piece of the centerline, downstream, degrees
	Order []int            // by edge: the recorded stream order, or the computed one
	Found [][]string       // by line: the kinds of trouble it has, sorted

	Surfaces   []Surface   // lakes and wide rivers drawn as areas
	On         []int32     // by edge: index of its surface, -1 for none
	Structures []Structure // point barriers; a node's Stop is an index here, counted from 1
}

func connect(lines []Centerline, structures []Structure, surfaces []Surface, o flow.Options) (*Network, []check.Finding) {
	areas := make([]orb.MultiPolygon, len(surfaces))
	for i := range surfaces {
		areas[i] = surfaces[i].EveryTurn()
	}
	coverage := shape.NewCoverage(areas)
	given := flowLines(lines, structures)
	if len(surfaces) > 0 {
		for i, at := range shores(lines, coverage) {
			given[i].Splits = at
		}
	}
	net, troubles := flow.Build(given, o)
	n := &Network{
		Structures: structures,
		Net:        net, Lines: lines,
		Paths: make([]orb.LineString, len(net.Edges)),
		Order: make([]int, len(net.Edges)),
		Found: found(len(lines), troubles),
	}
	for i := range lines {
		n.lay(int32(i))
	}
	findings := append(networkFindings(lines, troubles), n.disagreements()...)
	findings = append(findings, n.setSurfaces(surfaces, coverage)...)
	check.Sort(findings)
	return n, findings
}

// lay sets the path of each edge of a line, downstream, and its order.
func (n *Network) lay(line int32) {
	path := n.Lines[line].Path
	edges := n.Net.EdgesOf(line)
	var measures []float64
	if len(edges) > 1 {
		measures = linear.Measure(path)
	}
	for _, e := range edges {
		edge := &n.Net.Edges[e]
		n.Paths[e] = path
		if measures != nil {
			n.Paths[e] = linear.Cut(path, measures, edge.Start, edge.End)
		}
		if edge.Flipped {
			n.Paths[e] = slices.Clone(n.Paths[e])
			slices.Reverse(n.Paths[e])
		}
		n.Order[e] = n.Lines[line].Order
		if n.Order[e] == 0 {
			n.Order[e] = max(1, edge.Order)
		}
	}
}

// flowLines passes on what the network needs from each centerline.
func flowLines(lines []Centerline, structures []Structure) []flow.Line {
	out := make([]flow.Line, len(lines))
	stops := stopsOf(len(lines), structures)
	for i := range lines {
		c := &lines[i]
		out[i] = flow.Line{
			Name: c.ID, Path: c.Path, From: c.FromNode, To: c.ToNode, Sequence: c.Sequence,
			Divergence: uint8(c.Divergence), Share: c.FlowShare, Width: c.BankfullWidth,
			Length: c.Length, Area: c.LocalArea, Order: c.Order, Barrier: c.Barrier != NoBarrier,
			Fall: c.fall(), Shore: c.Coast, Stops: stops[i],
		}
	}
	return out
}

// fall returns from the recorded slope whether the line, as digitised, falls (1) or rises (-1); 0
// for unknown.
func (l *Centerline) fall() int {
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
func (n *Network) BarrierAt(edge int32) (Barrier, float64) {
	if number := n.Net.Stopped(edge); number > 0 {
		return n.Structures[number-1].Kind, n.Structures[number-1].Pass
	}
	e := &n.Net.Edges[edge]
	if !e.Barrier {
		return NoBarrier, 1
	}
	return n.Lines[e.Line].Barrier, n.Lines[e.Line].BarrierPass
}
