package flow

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// hasNames reports whether a line names both its nodes.
func hasNames(l *Line) bool { return l.From != "" && l.To != "" }

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
	for r := range b.lines {
		if b.kept(int32(r)) && !hasNames(b.line(int32(r))) {
			return false
		}
	}
	return true
}

// decideNames tells for each line whether names decide its topology: in a part,
// connected by names or by touching, where every line has both. The hits are the
// ends that lie on a line's middle.
func (b *builder) decideNames(hits []cut) {
	b.named = make([]bool, len(b.lines))
	parts := newSets(len(b.points) + len(b.lines))
	byName := map[string]int32{}
	for r := range b.named {
		if b.kept(int32(r)) {
			b.joinParts(int32(r), parts, byName)
		}
	}
	for _, h := range hits {
		if h.distance <= float64(b.options.Snap) {
			parts.union(h.point, int32(len(b.points))+h.rank)
		}
	}
	bare := make([]bool, len(parts))
	for r := range b.named {
		if b.kept(int32(r)) && !hasNames(b.line(int32(r))) {
			bare[parts.find(int32(len(b.points)+r))] = true
		}
	}
	for r := range b.named {
		b.named[r] = b.kept(int32(r)) && !bare[parts.find(int32(len(b.points)+r))]
	}
}

// joinParts joins a line with its end places and with the lines that name one
// of its nodes.
func (b *builder) joinParts(r int32, parts sets, byName map[string]int32) {
	l, self := b.line(r), int32(len(b.points))+r
	for _, p := range b.ends[2*r : 2*r+2] {
		if p >= 0 {
			parts.union(self, b.places.find(p))
		}
	}
	if !hasNames(l) {
		return
	}
	for _, name := range [2]string{l.From, l.To} {
		if other, ok := byName[name]; ok {
			parts.union(self, other)
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
			b.nodes = append(b.nodes, Node{At: orb.Point{math.NaN(), math.NaN()}, Name: name})
		}
		if point >= 0 && math.IsNaN(b.nodes[id].At[0]) {
			b.nodes[id].At = b.points[point]
		}
		return id
	}
	for r := range b.named {
		if b.named[r] && b.kept(int32(r)) {
			l := b.line(int32(r))
			nodeOf[2*r] = node(l.From, b.ends[2*r])
			nodeOf[2*r+1] = node(l.To, b.ends[2*r+1])
		}
	}
}

// checkNames compares where named ends lie. A line digitised against its names
// is marked as flipped; ends that still lie apart are reported.
func (b *builder) checkNames(nodeOf []int32) (flipped []bool) {
	flipped = make([]bool, len(b.lines))
	at := b.endsOfDoubtfulNodes(nodeOf)
	for i := range b.nodes {
		if math.IsNaN(b.nodes[i].At[0]) {
			b.nodes[i].At = orb.Point{}
		}
	}
	if len(at) == 0 {
		return flipped
	}
	for _, node := range sortedKeys(at) {
		b.nodes[node].At = b.busiest(at[node])
	}
	for r := range b.named {
		if b.named[r] && b.kept(int32(r)) && b.ends[2*r] >= 0 {
			flipped[r] = b.againstNames(int32(r), nodeOf)
		}
	}
	return flipped
}

// endsOfDoubtfulNodes returns the end positions at each named node whose ends do
// not lie within the snap distance of its first.
func (b *builder) endsOfDoubtfulNodes(nodeOf []int32) map[int32][]int32 {
	at := map[int32][]int32{}
	for e, p := range b.ends {
		if p >= 0 && b.named[e/2] && b.apart(b.nodes[nodeOf[e]].At, b.points[p]) {
			at[nodeOf[e]] = nil
		}
	}
	if len(at) == 0 {
		return nil
	}
	for e, p := range b.ends {
		if p >= 0 && b.named[e/2] {
			if list, ok := at[nodeOf[e]]; ok {
				at[nodeOf[e]] = append(list, p)
			}
		}
	}
	return at
}

// apart reports whether two positions lie further apart than the snap distance.
func (b *builder) apart(p, q orb.Point) bool {
	return p != q && separation(p, q) > float64(b.options.Snap)
}

// busiest returns the position that most of the given ends lie at, the first of
// equals. Quadratic in ends up to the 64 that are looked at.
func (b *builder) busiest(ends []int32) orb.Point {
	// no confluence has more; our choice
	const most = 64
	ends = ends[:min(len(ends), most)]
	best, votes := ends[0], 0
	for _, p := range ends {
		count := 0
		for _, q := range ends {
			if !b.apart(b.points[p], b.points[q]) {
				count++
			}
		}
		if count > votes {
			best, votes = p, count
		}
	}
	return b.points[best]
}

// againstNames reports whether a line lies the other way round than its nodes
// do, and reports it and ends that lie apart from their node.
func (b *builder) againstNames(r int32, nodeOf []int32) bool {
	l := b.line(r)
	from, to := b.nodes[nodeOf[2*r]], b.nodes[nodeOf[2*r+1]]
	start, end := b.points[b.ends[2*r]], b.points[b.ends[2*r+1]]
	asIs := separation(start, from.At) + separation(end, to.At)
	swapped := separation(end, from.At) + separation(start, to.At)
	turned := swapped < asIs && l.From != l.To && swapped <= 2*float64(b.options.Snap)
	if turned {
		b.report(Trouble{
			Kind: OpposedDirection, Lines: []int32{r}, At: end,
			Message: fmt.Sprintf("line %s is digitised from node %s to node %s", l.Name, l.To, l.From),
			Repair:  "flows as its nodes are named",
		})
		return true
	}
	b.reportApart(r, from, start)
	b.reportApart(r, to, end)
	return false
}

// reportApart reports an end that lies away from its named node.
func (b *builder) reportApart(r int32, node Node, end orb.Point) {
	if b.apart(node.At, end) {
		b.report(Trouble{
			Kind: EndsApart, Lines: []int32{r}, At: end,
			Message: fmt.Sprintf("line %s ends %.1f m from the other lines of node %s", b.name(r), separation(node.At, end), node.Name),
			Repair:  "the name was followed; the map shows a gap",
		})
	}
}
