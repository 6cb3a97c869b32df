package flow

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
	"driftreach/geo/earth"
)

// builder carries the lines on their way to becoming a network. Inside it lines
// go by rank, their place in canonical order, so that nothing depends on the
// order of the records.
type builder struct {
	lines    []Line
	record   []int32 // rank -> index into lines
	options  Options
	length   []float64 // geodesic length by rank; NaN for a line that is left out
	named    []bool    // by rank: names decide its topology
	points   []orb.Point
	ends     []int32       // point at the start and the end of each rank
	places   disjoint.Sets // points that are one place
	cuts     []cut
	arcs     []arc
	nodes    []Node
	edgeArc  []int32 // arc of each edge
	troubles []Trouble

	braidWork float64 // steps that the exact totals inside one braid may take
}

// arc is an edge in the making.
type arc struct {
	rank       int32
	from, to   int32
	start, end float64
	flipped    bool
	first      bool // the line's first stretch, as the water flows
	last       bool // its last
	digitised  bool // nothing but the digitising gives its direction
}

// line returns the line at a rank.
func (b *builder) line(rank int32) *Line { return &b.lines[b.record[rank]] }

// Build returns the network of the lines and what was found wrong on the way,
// in a fixed order. The rules, in order:
//
//   - A shore, and a line without length or with an impossible vertex, is left out.
//   - Ends within Snap of each other (straight distance, single linkage) are one
//     node. An end within Snap of the middle of another line splits it there, unless
//     one line ends and another begins at that place: the water goes on without the
//     line, as where two streams are drawn over each other. In
//     a connected part where every line names one of its nodes at least, the names
//     decide instead: an end without a name is the node that another line's end at
//     the very same position has, else a node of its own.
//   - Loose ends that point at each other across a gap of at most CloseGap are one
//     node.
//   - A stop splits its line. One within Snap, along the line, of a node that is
//     there already stands at that node, in the way of every edge that enters it;
//     of several at one node the smallest number stays.
//   - Water flows from From to To; else from the higher to the lower Sequence;
//     else as digitised (or,
//     with Upstream, against it), and a stretch without branches that runs from a place
//     nothing enters to a place nothing leaves, against its neighbours at both
//     ends, is turned round.
//   - Where water goes round, a walk downstream from where water enters the ring
//     finds the edge that leads back to a place already passed: nothing flows
//     into that edge any more.
//   - Shares at a divergence are the given ones, scaled to add up to 1; else in
//     proportion to the widths when every branch has one; else equal. The main
//     path is the marked one, else the one with the largest share, then the
//     largest recorded order, then a line that goes on before one that begins,
//     then the smallest name.
//
// The result depends on the set of lines only, not on their order or on Workers.
// Memory and time are linear in vertices but for a sort of the names, and for
// braids as told at the totals; 1 million lines take seconds.
func Build(lines []Line, o Options) (*Network, []Trouble) {
	return build(&builder{lines: lines, record: canonical(lines), options: o, braidWork: maxBraidWork})
}

// build is Build, with the bounds of the builder.
func build(b *builder) (*Network, []Trouble) {
	b.measure()
	b.collectEnds()
	b.node()
	b.makeArcs()
	b.reportAllAgainst()
	b.turnReversed()
	b.cutCycles()
	n := b.network()
	n.divide(b)
	n.orders()
	n.outlets()
	n.totals(b)
	n.doubts(b)
	return n, b.troubles
}

// node finds out which line ends are one place, and where lines are to be split.
func (b *builder) node() {
	if b.everyLineNamed() {
		b.named = make([]bool, len(b.lines))
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
	b.reportDangles(hits, gaps)
	b.reportPassings()
}

// measure fills in the geodesic lengths and reports lines that have none.
func (b *builder) measure() {
	b.length = make([]float64, len(b.lines))
	crossing := make([]bool, len(b.lines))
	inChunks(len(b.lines), b.options.Workers, func(_, low, high int) {
		for r := low; r < high; r++ {
			path := b.line(int32(r)).Path
			if b.line(int32(r)).Shore || !usable(path) {
				b.length[r] = math.NaN()
				continue
			}
			b.length[r] = float64(earth.LineLength(path))
			crossing[r] = crossesItself(path)
		}
	})
	for r := range b.length {
		b.reportLine(int32(r), crossing[r])
	}
}

// reportLine reports what is wrong with one line by itself, and marks those that
// are left out with a NaN length.
func (b *builder) reportLine(r int32, crossing bool) {
	l := b.line(r)
	var at orb.Point
	if len(l.Path) > 0 && usable(l.Path[:1]) {
		at = normal(l.Path[0])
	}
	t := Trouble{Lines: []int32{r}, At: at}
	switch {
	case l.Shore: // left out, as asked
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
