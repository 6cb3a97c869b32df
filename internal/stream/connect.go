package stream

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

func connect(lines []Centerline, structures []Structure, surfaces []Surface, o flow.Options) (*Network, []check.Finding) {
	areas := make([]orb.MultiPolygon, len(surfaces))
	for i := range surfaces {
		areas[i] = surfaces[i].EveryTurn()
	}
	coverage := shape.NewCoverage(areas)
	given := flowLines(lines, structures)
	if len(surfaces) > 0 {
		splitAt(given, shores(lines, coverage))
	}
	net, troubles := flow.Build(given, o)
	n := &Network{
		Structures: structures,
		Net:        net, Lines: lines,
		Order: make([]int, len(net.Edges)),
		Found: found(len(lines), troubles),
	}
	paths, drawn := make([]orb.LineString, len(net.Edges)), make([]orb.LineString, len(lines))
	for i := range lines {
		n.lay(paths, int32(i))
		drawn[i] = lines[i].Path
	}
	n.Paths, n.Drawn = linear.LinesOf(paths), linear.LinesOf(drawn)
	findings := append(networkFindings(lines, troubles), n.disagreements()...)
	findings = append(findings, n.setSurfaces(surfaces, coverage)...)
	check.Sort(findings)
	return n, findings
}

// flowLines passes on what the network needs from each centerline.
func flowLines(lines []Centerline, structures []Structure) []flow.Line {
	out := make([]flow.Line, len(lines))
	for i := range lines {
		c := &lines[i]
		out[i] = flow.Line{
			Name: c.ID, Path: c.Path, From: c.FromNode, To: c.ToNode, Sequence: c.Sequence,
			Divergence: uint8(c.Divergence), Share: float64(c.FlowShare), Width: c.BankfullWidth,
			Length: c.Length, Area: c.LocalArea, Order: int32(c.Order), Barrier: c.Barrier != NoBarrier,
			Fall: c.fall(), Shore: c.Coast,
		}
	}
	for line, stops := range stopsOf(structures) {
		out[line].Along = &flow.Along{Stops: stops}
	}
	return out
}

// splitAt splits lines for the network at measures along them as well.
func splitAt(lines []flow.Line, splits [][]geo.Meters) {
	for i, at := range splits {
		if len(at) == 0 {
			continue
		}
		if lines[i].Along == nil {
			lines[i].Along = new(flow.Along)
		}
		lines[i].Along.Splits = at
	}
}

// Connect nodes the centerlines into a directed network. It returns the network, and a finding for
// each repair and each problem it could not repair (noding, direction and orders by the NHDPlus
// rules). Lines keep their index. A placed barrier obstructs its line at the lower end of the edge
// above it. A barrier at a confluence obstructs everything that flows into it. Where a line also
// records a barrier at its end, the point takes precedence, and a finding says so. Lines are split
// at the shores of lakes and wide rivers drawn as areas, so that each edge is on one surface or on
// none.
func Connect(lines []Centerline, structures []Structure, surfaces []Surface, o flow.Options) (*Network, []check.Finding) {
	n, findings := connect(lines, structures, surfaces, o)
	log := check.Log{}
	stands := make([]bool, len(structures))
	for v := range n.Net.Nodes {
		if number := n.Net.Nodes[v].Stop; number > 0 && len(n.Net.In(int32(v))) > 0 {
			stands[number-1] = true
		}
	}
	for i := range structures {
		if s := &structures[i]; !stands[i] {
			log.Add(structureKind.Finding(s, ruleStructureJunction, "position", "", "the barrier holds nothing back: another stands at the same junction, or no water comes down to it"))
		}
	}
	for e := range n.Net.Edges {
		edge := &n.Net.Edges[e]
		if number := n.Net.Stopped(int32(e)); number > 0 && edge.Barrier {
			s, l := &structures[number-1], &lines[edge.Line]
			log.Add(structureKind.Finding(s, ruleStructureOnBarrier, "kind", string(s.Kind), fmt.Sprintf("line %s ends in a barrier (%s) at the same place; the point's kind and pass share hold", l.ID, l.Barrier)))
		}
	}
	findings = append(findings, log.Findings()...)
	check.Sort(findings)
	return n, findings
}
