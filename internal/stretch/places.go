package stretch

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/stream"
)

// stretchesAtOnce is how many stretches are searched at once for stands. Our choice: their index takes
// a megabyte or two, and a stand far from all of them costs next to nothing.
const stretchesAtOnce = 1 << 13

// nearStands counts the live stands near each stretch.
func (k *Known) nearStands(all []Stretch, s Settings) {
	for some := range slices.Chunk(all, stretchesAtOnce) {
		k.nearSome(some, s)
	}
}

// nearSome is nearStands for some of the stretches.
func (k *Known) nearSome(all []Stretch, s Settings) {
	paths := make([]orb.LineString, len(all))
	nearest := make([]geo.Meters, len(all))
	for i := range all {
		paths[i] = all[i].Line()
		all[i].NearestStand = -1
	}
	index := linear.NewIndex(paths)
	var runs []linear.Run
	for n := range k.Stands {
		stand := &k.Stands[n]
		if !stand.Live {
			continue
		}
		frame := earth.NewFrame(stand.At)
		runs = index.AppendNear(runs[:0], stand.At, s.Near)
		for len(runs) > 0 {
			line, best := runs[0].Line, geo.Meters(0)
			for first := true; len(runs) > 0 && runs[0].Line == line; first, runs = false, runs[1:] {
				xy := frame.ProjectLine(paths[line][runs[0].First : runs[0].Last+1])
				if _, _, d := linear.NearestOnLine(orb.Point{}, xy); first || d < best {
					best = d
				}
			}
			if best > s.Near {
				continue
			}
			one := &all[line]
			one.Access = append(one.Access, stand.Access...)
			if one.StandsNear++; one.NearestStand < 0 || best < nearest[line] {
				one.NearestStand, nearest[line] = int32(n), best
			}
		}
	}
	for i := range all {
		slices.Sort(all[i].Access)
		all[i].Access = slices.Compact(all[i].Access)
	}
}

// markPlaces marks the stretches just above the highest stand of each tributary, those at the head
// of a stream, and those with the site of a planned work.
func (k *Known) markPlaces(cuts []cut, all []Stretch, s Settings) {
	on := newOnEdges(cuts, k.Net)
	var room []flow.Piece
	for _, at := range k.highest() {
		for _, i := range k.justAbove(on, cuts, at) {
			all[i].Above = true
		}
	}
	for i := range cuts {
		room = cuts[i].appendPieces(room[:0], k.Net)
		top := room[0]
		all[i].Head = top.From == 0 && len(k.Net.Net.In(k.Net.Net.Edges[top.Edge].From)) == 0 && !all[i].Above
	}
	for _, site := range k.Sites {
		for _, p := range site.Places {
			i := on.at(p)
			if i >= 0 && !slices.Contains(all[i].Works, site.Work) {
				all[i].Works = append(all[i].Works, site.Work)
			}
		}
	}
	for i := range all {
		slices.Sort(all[i].Works)
	}
}

// highest returns the places of the stands with no other stand upstream, in flow order.
func (k *Known) highest() []flow.Place {
	edges := k.Net.Net.Edges
	first := make([]geo.Meters, len(edges)) // by edge: offset of its uppermost stand, -1 for none
	for e := range first {
		first[e] = -1
	}
	for i := range k.Stands {
		at := k.Stands[i].On
		if at.Edge >= 0 && (first[at.Edge] < 0 || at.Offset < first[at.Edge]) {
			first[at.Edge] = at.Offset
		}
	}
	above := make([]bool, len(k.Net.Net.Nodes)) // by node: a stand is upstream of it
	var out []flow.Place
	for e := range edges { // upstream first
		if first[e] >= 0 && !above[edges[e].From] {
			out = append(out, flow.Place{Edge: int32(e), Offset: first[e]})
		}
		above[edges[e].To] = above[edges[e].To] || above[edges[e].From] || first[e] >= 0
	}
	return out
}

// justAbove returns the stretches just above a place: its own stretch, if most of that is above the
// place, and the next stretches upstream on every branch.
func (k *Known) justAbove(on onEdges, cuts []cut, at flow.Place) []int32 {
	own := on.at(at)
	if own < 0 {
		return nil
	}
	var out []int32
	if cuts[own].upTo(k.Net, at) > cuts[own].length/2 {
		out = append(out, own)
	}
	top := cuts[own].appendPieces(nil, k.Net)[0]
	if top.From > 0 {
		return append(out, on.at(flow.Place{Edge: top.Edge, Offset: top.From}))
	}
	for _, e := range k.Net.Net.In(k.Net.Net.Edges[top.Edge].From) {
		if i := on.at(flow.Place{Edge: e, Offset: k.Net.Net.Edges[e].Length}); i >= 0 {
			out = append(out, i)
		}
	}
	return out
}

// upTo returns the length of a stretch above a place on it.
func (c *cut) upTo(net *stream.Network, at flow.Place) geo.Meters {
	sum := geo.Meters(0)
	for _, p := range c.appendPieces(nil, net) {
		if p.Edge == at.Edge {
			return sum + max(0, at.Offset-p.From)
		}
		sum += p.To - p.From
	}
	return sum
}

// onEdges finds the stretch that contains a place: by edge its stretches, downstream, each with its
// lower end on the edge.
type onEdges struct {
	first []int32 // by edge: index of its first stretch in all; one more entry at the end
	all   []ending
}

type ending struct {
	stretch int32
	to      geo.Meters
}

func newOnEdges(cuts []cut, net *stream.Network) onEdges {
	on := onEdges{first: make([]int32, len(net.Net.Edges)+1)}
	var room []flow.Piece
	each := func(do func(i int, p flow.Piece)) {
		for i := range cuts { // the stretches of a chain are in downstream order
			room = cuts[i].appendPieces(room[:0], net)
			for _, p := range room {
				do(i, p)
			}
		}
	}
	each(func(_ int, p flow.Piece) { on.first[p.Edge+1]++ })
	for e := range net.Net.Edges {
		on.first[e+1] += on.first[e]
	}
	on.all = make([]ending, on.first[len(net.Net.Edges)])
	next := slices.Clone(on.first)
	each(func(i int, p flow.Piece) {
		on.all[next[p.Edge]] = ending{int32(i), p.To}
		next[p.Edge]++
	})
	return on
}

// on returns the stretches of one edge, downstream.
func (on onEdges) on(edge int32) []ending { return on.all[on.first[edge]:on.first[edge+1]] }

// at returns the index of the stretch at a place, where two meet the upper one; -1 for none.
func (on onEdges) at(place flow.Place) int32 {
	if place.Edge < 0 {
		return -1
	}
	here := on.on(place.Edge)
	if len(here) == 0 {
		return -1
	}
	i, _ := slices.BinarySearchFunc(here, place.Offset, func(e ending, at geo.Meters) int { return cmp.Compare(e.to, at) })
	return here[min(i, len(here)-1)].stretch
}
