package flow

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
	"driftreach/geo/earth"
)

// builder holds the lines while they become a network. It refers to a line by its rank, its place
// in canonical order, so that nothing depends on the order of the records.
type builder struct {
	lines     Lines
	record    []int32 // rank -> index into lines
	options   Options
	length    []float64 // geodesic length by rank; NaN for a line left out
	named     []bool    // by rank: names decide its topology
	points    []orb.Point
	ends      []int32       // point at the start and the end of each line, by rank
	places    disjoint.Sets // groups of points that form one place
	cuts      []cut
	arcs      []arc
	nodes     []Node
	nodeNames []string // of the first nodes, which names made
	edgeArc   []int32  // arc of each edge
	troubles  []Trouble

	braidWork float64 // limit of steps for exact totals inside one braid
}

// arc is an edge before the network is complete.
type arc struct {
	rank       int32
	from, to   int32
	start, end float64
	flipped    bool
	first      bool // the line's first stretch in flow direction
	last       bool // its last stretch
	digitised  bool // only the digitising gives its direction
}

// line returns the line at a rank.
func (b *builder) line(rank int32) Line { return b.lines.Line(b.record[rank]) }

// Build returns the network of the lines, and what was found wrong with them in a fixed order. The
// rules, in order:
//
//   - A shore is left out. So is a line of length 0 or with an impossible vertex.
//   - Ends within Snap of each other (straight distance, single linkage) become one
//     node. An end within Snap of the middle of another line splits that line there.
//     Where one line ends and another begins at that place, nothing is split: the
//     water flows on past the crossed line, as where two streams cross on the map. In
//     a connected part where every line names at least one of its nodes, the names
//     decide instead. An end without a name then takes the node of another line's end
//     at exactly the same position, or becomes a node by itself.
//   - Loose ends that point at each other across a gap of at most CloseGap become one
//     node.
//   - A stop splits its line. A stop within Snap, along the line, of an existing node
//     is placed at that node and obstructs every edge that enters it. Of several stops
//     at one node the smallest number stays.
//   - Water flows from From to To; else from the higher to the lower Sequence; else
//     as digitised (with Upstream, against it). A stretch without branches is reversed
//     if it runs from a place nothing enters to a place nothing leaves, against its
//     neighbours at both ends.
//   - Where water flows in a ring, a walk downstream from the inflow finds the edge
//     that leads back to a place already passed. Nothing flows into that edge any more.
//   - Shares at a divergence are the given ones, scaled to add up to 1; else
//     proportional to the widths when every branch has one; else equal. The main path
//     is the marked one, else the one with the largest share, then the largest
//     recorded order, then a line that continues before one that begins, then the
//     smallest name.
//
// The result depends only on the set of lines, not on their order or on Workers. Memory and time
// are linear in the vertices, except for sorting the names and for braids (see totals); 1 million
// lines take seconds.
func Build(lines []Line, o Options) (*Network, []Trouble) { return BuildOf(listed(lines), o) }

// BuildOf is Build of lines that are made as they are asked for.
func BuildOf(lines Lines, o Options) (*Network, []Trouble) {
	return build(&builder{lines: lines, record: canonical(lines), options: o, braidWork: maxBraidWork})
}

// build does the work of Build with the limits of the given builder.
func build(b *builder) (*Network, []Trouble) {
	b.measure()
	b.collectEnds()
	b.node()
	b.makeArcs()
	b.reportAllAgainst()
	b.turnReversed()
	b.cutCycles()
	b.points, b.ends, b.cuts, b.places, b.nodeNames = nil, nil, nil, nil, nil // only nodes and arcs are made of them
	n := b.network()
	n.divide(b)
	n.orders()
	n.outlets()
	n.totals(b)
	n.doubts(b)
	return n, b.troubles
}

// node finds which line ends form one place, and where lines must be split.
func (b *builder) node() {
	if b.everyLineNamed() {
		b.named = make([]bool, b.lines.Len())
		for r := range b.named {
			b.named[r] = b.kept(int32(r))
		}
		return
	}
	b.snapEnds()
	hits := b.findHits()
	b.decideNames(hits)
	b.takeCuts(hits)
	b.reportGaps()
	gaps := b.closeGaps()
	b.reportShortEnds(hits, gaps)
	if !b.options.Quiet {
		b.reportPassings()
	}
}

// measure fills in the geodesic lengths and reports lines of length 0.
func (b *builder) measure() {
	b.length = make([]float64, b.lines.Len())
	crossing := make([]bool, b.lines.Len())
	inChunks(b.lines.Len(), b.options.Workers, func(_, low, high int) {
		for r := low; r < high; r++ {
			l := b.line(int32(r))
			if l.Shore || !usable(l.Path) {
				b.length[r] = math.NaN()
				continue
			}
			b.length[r] = float64(earth.LineLength(l.Path))
			crossing[r] = crossesItself(l.Path)
		}
	})
	for r := range b.length {
		b.reportLine(int32(r), crossing[r])
	}
}

// reportLine reports what is wrong with one line on its own, and gives a line that is left out the
// length NaN.
func (b *builder) reportLine(r int32, crossing bool) {
	l := b.line(r)
	var at orb.Point
	if len(l.Path) > 0 && usable(l.Path[:1]) {
		at = normal(l.Path[0])
	}
	t := Trouble{Lines: []int32{r}, At: at}
	switch {
	case l.Shore: // left out without a report
	case math.IsNaN(b.length[r]):
		t.Kind, t.Message = Unusable, fmt.Sprintf("line %s has a vertex that is no position", l.Name)
		t.Repair = "left out of the network"
		b.report(t)
	case b.length[r] == 0 && (l.From == l.To || l.From == "" || l.To == ""):
		b.length[r] = math.NaN()
		t.Kind, t.Message = ZeroLength, fmt.Sprintf("line %s has no length (%d vertices)", l.Name, len(l.Path))
		t.Repair = "left out of the network"
		b.report(t)
	case crossing:
		t.Kind, t.Message = SelfCrossing, fmt.Sprintf("line %s crosses itself", l.Name)
		t.Repair = "kept as digitised; lengths follow the whole path"
		b.report(t)
	}
	if r > 0 && l.Name == b.name(r-1) {
		t = Trouble{Kind: RepeatedName, Lines: []int32{r - 1, r}, At: at}
		t.Message = fmt.Sprintf("two lines are named %q", l.Name)
		t.Repair = "both kept"
		b.report(t)
	}
	if l.Divergence > MinorPath {
		t = Trouble{Kind: UnknownDivergence, Lines: []int32{r}, At: at}
		t.Message = fmt.Sprintf("line %s has divergence %d, which is not 0, 1 or 2", l.Name, l.Divergence)
		t.Repair = "read as 0"
		b.report(t)
	}
}

// recordedLength returns the recorded length of a line, or else its geodesic
// length, metres.
func (b *builder) recordedLength(rank int32) geo.Meters {
	if l := b.line(rank).Length; l > 0 && !math.IsInf(float64(l), 0) {
		return l
	}
	return geo.Meters(b.length[rank])
}
