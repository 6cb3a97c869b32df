package flow

// orders sets the river order of every edge by the rule of NHDPlus (Strahler's, modified for
// divergences: McKay and others, NHDPlus Version 2 User Guide, StreamOrde and StreamCalc). An edge
// takes the largest Calc of the edges directly upstream, plus one when two or more share it. A
// minor path keeps that order and passes 0 downstream. An edge fed only by such paths keeps their
// largest order and passes 0 downstream.
func (n *Network) orders() {
	type rank struct{ order, calc int }
	below := make([]rank, len(n.Nodes)) // order 0 for unknown
	for i := range n.Edges {
		e := &n.Edges[i]
		if below[e.From].order == 0 {
			below[e.From].order, below[e.From].calc = n.orderBelow(n.In(e.From))
		}
		e.Order, e.Calc = below[e.From].order, below[e.From].calc
		if e.Minor {
			e.Calc = 0
		}
	}
}

// orderBelow returns the order and Calc of a main path below the given edges.
func (n *Network) orderBelow(in []int32) (order, calc int) {
	if len(in) == 0 {
		return 1, 1
	}
	largest, times := 0, 0
	for _, i := range in {
		order = max(order, n.Edges[i].Order)
		switch c := n.Edges[i].Calc; {
		case c > largest:
			largest, times = c, 1
		case c == largest:
			times++
		}
	}
	if largest == 0 {
		return order, 0
	}
	if times > 1 {
		largest++
	}
	return largest, largest
}

// outlets sets the river kilometres of every edge, from the outlets upstream along main paths.
func (n *Network) outlets() {
	for i := len(n.Edges) - 1; i >= 0; i-- {
		if down := n.Down(int32(i)); down >= 0 {
			d := &n.Edges[down]
			n.Edges[i].OutletKm = d.OutletKm + d.Length.Kilometers()
		}
	}
}
