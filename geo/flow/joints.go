package flow

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// joint is a node in the middle of a line.
type joint struct {
	measure float64
	node    int32
}

// joints returns the nodes between the ends of a line, in order along it: its cuts, its splits, and
// its stops that have no node nearby. from and to are the nodes at its start and end as digitised.
func (b *builder) joints(rank, from, to int32, placeNode []int32, cuts []cut) []joint {
	along := b.line(rank).along()
	out := make([]joint, 0, len(cuts)+len(along.Stops))
	for _, c := range cuts {
		out = append(out, joint{c.measure, placeNode[b.places.Find(c.point)]})
	}
	for _, at := range along.Splits {
		out = b.split(rank, float64(at), out)
	}
	if len(along.Stops) == 0 {
		return out
	}
	stops := slices.Clone(along.Stops)
	slices.SortFunc(stops, compareStops)
	for _, s := range stops {
		out = b.stop(rank, from, to, s, out)
	}
	return out
}

// split adds a node at a measure along a line unless one is within the snap distance.
func (b *builder) split(rank int32, at float64, joints []joint) []joint {
	snap := max(float64(b.options.Snap), 0.01) // shorter edges are not drawn
	if at <= snap || at >= b.length[rank]-snap {
		return joints
	}
	k, _ := slices.BinarySearchFunc(joints, at, func(j joint, at float64) int { return cmp.Compare(j.measure, at) })
	for _, i := range []int{k - 1, k} {
		if i >= 0 && i < len(joints) && max(at-joints[i].measure, joints[i].measure-at) <= snap {
			return joints
		}
	}
	node := int32(len(b.nodes))
	b.nodes = append(b.nodes, Node{At: normal(placeAt(b.line(rank).Path, at))})
	return slices.Insert(joints, k, joint{at, node})
}

// stop puts a stop at a nearby node of its line, or at a new node.
func (b *builder) stop(rank, from, to int32, s Stop, joints []joint) []joint {
	snap, length := float64(b.options.Snap), b.length[rank]
	at := min(max(float64(s.At), 0), length)
	switch {
	case at <= snap:
		b.stand(from, s.Number)
		return joints
	case at >= length-snap:
		b.stand(to, s.Number)
		return joints
	}
	k, _ := slices.BinarySearchFunc(joints, at, func(j joint, at float64) int { return cmp.Compare(j.measure, at) })
	for _, i := range []int{k - 1, k} {
		if i >= 0 && i < len(joints) && max(at-joints[i].measure, joints[i].measure-at) <= snap {
			b.stand(joints[i].node, s.Number)
			return joints
		}
	}
	node := int32(len(b.nodes))
	b.nodes = append(b.nodes, Node{At: normal(placeAt(b.line(rank).Path, at)), Stop: s.Number})
	return slices.Insert(joints, k, joint{at, node})
}

// stand records the obstacle at a node; of several the smallest number stays.
func (b *builder) stand(node, number int32) {
	if old := b.nodes[node].Stop; old == 0 || number < old {
		b.nodes[node].Stop = number
	}
}

// placeAt returns the position at a measure along a path, straight in degrees between vertices.
func placeAt(path orb.LineString, at float64) orb.Point {
	for i := range len(path) - 1 {
		d := float64(earth.Distance(path[i], path[i+1]))
		if at <= d && d > 0 {
			share := at / d
			return orb.Point{path[i][0] + share*earth.Wrap(path[i+1][0]-path[i][0]), path[i][1] + share*(path[i+1][1]-path[i][1])}
		}
		at -= d
	}
	return path[len(path)-1]
}

// compareStops orders stops by place, then number.
func compareStops(a, b Stop) int {
	return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Number, b.Number))
}

// Stopped returns the number of the obstacle at the lower end of an edge, 0 for none.
func (n *Network) Stopped(edge int32) int32 { return n.Nodes[n.Edges[edge].To].Stop }
