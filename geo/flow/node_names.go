package flow

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/disjoint"
)

// hasNames reports whether a line names one of its nodes or both.
func hasNames(l Line) bool { return l.From != "" || l.To != "" }

// allNamed reports whether names decide the topology of every line.
func (b *builder) allNamed() bool {
	for r, named := range b.named {
		if !named && b.kept(int32(r)) {
			return false
		}
	}
	return true
}

// everyLineNamed reports whether every line that is kept has node names.
func (b *builder) everyLineNamed() bool {
	for r := range b.lines.Len() {
		if b.kept(int32(r)) && !hasNames(b.line(int32(r))) {
			return false
		}
	}
	return true
}

// decideNames says for each line whether names decide its topology: they do in a part, connected by
// names or by touching, where every line has a name. The hits are ends on the middle of a line.
func (b *builder) decideNames(hits []cut) {
	b.named = make([]bool, b.lines.Len())
	parts := disjoint.NewSets(len(b.points) + b.lines.Len())
	byName := map[string]int32{}
	for r := range b.named {
		if b.kept(int32(r)) {
			b.joinParts(int32(r), parts, byName)
		}
	}
	for _, h := range hits {
		if h.distance <= float64(b.options.Snap) {
			parts.Union(h.point, int32(len(b.points))+h.rank)
		}
	}
	bare := make([]bool, len(parts))
	for r := range b.named {
		if b.kept(int32(r)) && !hasNames(b.line(int32(r))) {
			bare[parts.Find(int32(len(b.points)+r))] = true
		}
	}
	for r := range b.named {
		b.named[r] = b.kept(int32(r)) && !bare[parts.Find(int32(len(b.points)+r))]
	}
	b.reportUnfollowed(parts, bare)
}

// reportUnfollowed reports, once for each part, the lines without node names because of which the
// names of the part's other lines are not followed.
func (b *builder) reportUnfollowed(parts disjoint.Sets, bare []bool) {
	named := make([]bool, len(parts))
	part := func(r int) int32 { return parts.Find(int32(len(b.points) + r)) }
	for r := range b.named {
		if b.kept(int32(r)) && hasNames(b.line(int32(r))) {
			named[part(r)] = true
		}
	}
	var troubles []Trouble
	of := map[int32]int{}
	for r := range b.named {
		if !b.kept(int32(r)) || hasNames(b.line(int32(r))) || !named[part(r)] {
			continue
		}
		at, known := of[part(r)]
		if !known {
			at = len(troubles)
			of[part(r)] = at
			troubles = append(troubles, Trouble{Kind: NamesIncomplete, At: b.startOf(int32(r))})
		}
		troubles[at].Lines = append(troubles[at].Lines, int32(r))
	}
	for _, t := range troubles {
		t.Message = fmt.Sprintf("line %s has no node names, and lines that it joins have", b.name(t.Lines[0]))
		if more := len(t.Lines) - 1; more > 0 {
			t.Message += fmt.Sprintf("; nor have %d more", more)
		}
		t.Repair = "in all of this part the places of the ends decide, and names are not followed"
		b.report(t)
	}
}

// startOf returns where a line begins, (0, 0) where it has no path.
func (b *builder) startOf(r int32) orb.Point {
	if p := b.ends[2*r]; p >= 0 {
		return b.points[p]
	}
	return orb.Point{}
}

// joinParts joins a line with its end places and with the lines that name one of its nodes.
func (b *builder) joinParts(r int32, parts disjoint.Sets, byName map[string]int32) {
	l, self := b.line(r), int32(len(b.points))+r
	for _, p := range b.ends[2*r : 2*r+2] {
		if p >= 0 {
			parts.Union(self, b.places.Find(p))
		}
	}
	if !hasNames(l) {
		return
	}
	for _, name := range [2]string{l.From, l.To} {
		if name == "" {
			continue
		}
		if other, ok := byName[name]; ok {
			parts.Union(self, other)
		} else {
			byName[name] = self
		}
	}
}

// nameNodes makes a node of each distinct name used by lines whose names decide,
// and returns the nodes at the start and the end of each rank.
func (b *builder) nameNodes(nodeOf []int32) {
	byName := map[string]int32{}
	node := func(name string, point int32) int32 {
		id, ok := byName[name]
		if !ok {
			id = int32(len(b.nodes))
			byName[name] = id
			b.nodes = append(b.nodes, Node{At: orb.Point{math.NaN(), math.NaN()}})
			b.nodeNames = append(b.nodeNames, name)
		}
		if point >= 0 && math.IsNaN(b.nodes[id].At[0]) {
			b.nodes[id].At = b.points[point]
		}
		return id
	}
	for r := range b.named {
		if b.named[r] && b.kept(int32(r)) {
			l := b.line(int32(r))
			for k, name := range [2]string{l.From, l.To} {
				if nodeOf[2*r+k] = -1; name != "" {
					nodeOf[2*r+k] = node(name, b.ends[2*r+k])
				}
			}
		}
	}
	b.nodesOfLooseEnds(nodeOf)
}

// nodesOfLooseEnds handles the unnamed ends of lines whose names decide. Such an end takes the node
// of the named end at its position, or else becomes a new node. An unnamed end at the position of
// the line's own named node shows that the line was digitised in the other direction.
func (b *builder) nodesOfLooseEnds(nodeOf []int32) {
	var nodeAt map[int32]int32 // by position
	for e, node := range nodeOf {
		if node >= 0 || !b.named[e/2] {
			continue
		}
		if nodeAt == nil {
			nodeAt = b.namedPositions(nodeOf)
		}
		point, other := b.ends[e], nodeOf[e^1]
		found, ok := nodeAt[point]
		if ok && found == other {
			point = b.ends[e^1]
			found, ok = nodeAt[point]
		}
		if !ok || found == other {
			found = int32(len(b.nodes))
			b.nodes = append(b.nodes, Node{At: orb.Point{math.NaN(), math.NaN()}})
			if point >= 0 {
				b.nodes[found].At = b.points[point]
			}
		}
		nodeOf[e] = found
	}
}

// namedPositions returns, for each position, the node of the first named end that lies at its node.
func (b *builder) namedPositions(nodeOf []int32) map[int32]int32 {
	at := map[int32]int32{}
	for e, p := range b.ends {
		if p < 0 || !b.named[e/2] || nodeOf[e] < 0 || b.points[p] != b.nodes[nodeOf[e]].At {
			continue
		}
		if _, taken := at[p]; !taken {
			at[p] = nodeOf[e]
		}
	}
	return at
}
