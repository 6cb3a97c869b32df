package learn

import (
	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
	"driftreach/internal/stand"
)

// joining marks the cells in which a plant may join a known stand of a batch and so not be a new stand:
// those within the join distance of the edge of one of its patches, measured along the water, so that
// they are rather too many than too few.
func (c *Chain) joining(b *Batch, touches [][]aquatic.Touch) []bool {
	near := make([]bool, len(c.Grid.Cells))
	for _, of := range touches {
		for _, t := range of {
			radius := radiusOf(stand.PatchOf(b.Records[t.Record], b.Rules.Stands).Area)
			c.mark(near, t.Place, b.Rules.Stands.JoinDistance+radius, -1)
		}
	}
	return near
}

// mark marks the cells within a distance of a place up and down the water. entry is the node through
// which its edge was reached, -1 for none; each edge shortens the distance by a metre or
// more, so that it ends.
func (c *Chain) mark(near []bool, at flow.Place, reach geo.Meters, entry int32) {
	if at.Edge < 0 {
		return
	}
	net := c.Net.Net
	edge := &net.Edges[at.Edge]
	for _, cell := range c.Grid.On(flow.Piece{Edge: at.Edge, From: at.Offset - reach, To: at.Offset + reach}) {
		near[cell] = true
	}
	beyond := func(node int32, left geo.Meters) {
		if node == entry || left <= 0 {
			return
		}
		for _, e := range net.In(node) {
			if e != at.Edge {
				c.mark(near, flow.Place{Edge: e, Offset: net.Edges[e].Length}, left, node)
			}
		}
		for _, e := range net.Out(node) {
			if e != at.Edge {
				c.mark(near, flow.Place{Edge: e}, left, node)
			}
		}
	}
	beyond(edge.From, reach-max(at.Offset, 1))
	beyond(edge.To, reach-max(edge.Length-at.Offset, 1))
}

// apart returns the looks at ground where a plant that came up between them would have been a new stand,
// and the new stands found there, by these looks. Elsewhere it would have joined a known stand: ground
// without new stands close to known ones would make fragments seem to float too far.
func (c *Chain) apart(looks []look, arrivals []Arrival) (open []look, found []int32) {
	place := make([]int32, len(looks))
	for i := range looks {
		place[i] = -1
		if !c.joined(&looks[i]) {
			place[i] = int32(len(open))
			open = append(open, looks[i])
		}
	}
	for i := range arrivals {
		if one := &arrivals[i]; one.Kind.Counts() && place[one.Look] >= 0 {
			found = append(found, place[one.Look])
		}
	}
	return open, found
}

// joined reports whether the cell of a look is close to a stand known in one of the batches before it.
func (c *Chain) joined(l *look) bool {
	for q := l.since; q < l.now; q++ {
		if near := c.Batches[q].near; near != nil && near[l.cell] {
			return true
		}
	}
	return false
}
