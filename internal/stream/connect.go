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
	given := flowLines{lines: lines, along: stopsOf(structures)}
	if len(surfaces) > 0 {
		given.splitAt(shores(lines, coverage))
	}
	net, troubles := flow.BuildOf(given, o)
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

// flowLines is what the network needs from each centerline.
type flowLines struct {
	lines []Centerline
	along map[int32]*flow.Along // by line: where it is split; few are
}

// Len returns the number of lines.
func (f flowLines) Len() int { return len(f.lines) }

// Line returns one line.
func (f flowLines) Line(i int32) flow.Line {
	c := &f.lines[i]
	l := flow.Line{
		Name: c.ID, Path: c.Path, From: c.FromNode, To: c.ToNode, Sequence: c.Sequence,
		Divergence: uint8(c.Divergence), Share: float64(c.FlowShare), Width: c.BankfullWidth,
		Length: c.Length, Area: c.LocalArea, Order: int32(c.Order), Barrier: c.Barrier != NoBarrier,
		Fall: c.fall(), Shore: c.Coast,
	}
	if len(f.along) > 0 {
		l.Along = f.along[i]
	}
	return l
}

// splitAt splits lines at measures along them as well.
func (f flowLines) splitAt(splits map[int32][]geo.Meters) {
	for i, at := range splits {
		if f.along[i] == nil {
			f.along[i] = new(flow.Along)
		}
		f.along[i].Splits = at
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
