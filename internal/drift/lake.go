package drift

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// lakes are the edges on lakes. A lake is one reservoir: nothing settles on its open water, one
// pass share applies where water leaves it, and the wind may blow what enters it to any shore.
type lakes struct {
	of    []int32   // by edge: its lake, -1 for none
	edges [][]int32 // by lake: its edges, ascending
}

const (
	// lake is the kind of barrier under which the settings give a lake's pass share.
	lake stream.Barrier = "lake"

	// stillRate is the loss per metre on open water: a millionth per kilometre is practically
	// nothing, but not 0, so that it can be divided by. Our choice.
	stillRate = 1e-9

	// damBelow is how far below a lake's shore, in metres, a dam still belongs to the lake.
	// Our choice: the distance within which a barrier is placed on a stream.
	damBelow = 100
)

// newLakes returns nil where no stream runs through a lake.
func newLakes(net *stream.Network) *lakes {
	l := lakes{of: make([]int32, len(net.On)), edges: make([][]int32, len(net.Surfaces))}
	any := false
	for e, on := range net.On {
		if l.of[e] = -1; on >= 0 && net.Surfaces[on].Kind == stream.Lake {
			l.of[e], any = on, true
			l.edges[on] = append(l.edges[on], int32(e))
		}
	}
	if !any {
		return nil
	}
	return &l
}

// hold sets the loss and the pass shares on lakes: nothing is lost or held except where water
// leaves a lake for good. There one pass share replaces those of every barrier on the lake and of
// the dam at its end. It applies at the end of the lake's last edge, or at the head of a branch
// that leaves the lake. A pass share recorded for the dam overrides the lake's assumed one.
func (l *lakes) hold(net *stream.Network, s Settings, t *flow.Transport) {
	if l == nil {
		return
	}
	for on, edges := range l.edges {
		for _, e := range edges {
			t.Rate[e], t.Pass[e] = stillRate, 1
		}
		returns := map[int32]bool{}
		for _, e := range edges {
			below := net.Net.Downstream(e)
			out := slices.DeleteFunc(slices.Clone(below), func(d int32) bool { return l.returns(net.Net, d, int32(on), returns) })
			if len(below) > 0 && len(out) == 0 {
				continue // water that returns to the lake farther down is held where it finally leaves
			}
			share := s.passAt(lake, l.recorded(net, e, out, t))
			if len(out) == len(below) {
				t.Pass[e] = float64(share)
				continue
			}
			if t.Enter == nil {
				t.Enter = slices.Repeat([]float64{1}, len(t.Pass))
			}
			for _, d := range out {
				t.Enter[d] = float64(share)
			}
		}
	}
}

// returns reports whether water of an edge comes back to a lake. known keeps the answers for one
// lake. It looks no farther than the lake's last edge in flow order.
func (l *lakes) returns(net *flow.Network, e, on int32, known map[int32]bool) bool {
	if l.of[e] == on {
		return true
	}
	if edges := l.edges[on]; e > edges[len(edges)-1] {
		return false
	}
	answer, met := known[e]
	if !met {
		answer = slices.ContainsFunc(net.Downstream(e), func(d int32) bool { return l.returns(net, d, on, known) })
		known[e] = answer
	}
	return answer
}

// recorded returns the pass share recorded for the dam at a lake's end, NaN for none. The dam may
// be up to damBelow metres above or below the shore; dams below the shore then pass everything.
func (l *lakes) recorded(net *stream.Network, e int32, out []int32, t *flow.Transport) geo.Share {
	share := geo.Share(math.NaN())
	note := func(e int32) bool {
		kind, pass := net.BarrierAt(e)
		if isDam(kind) && math.IsNaN(float64(share)) {
			share = geo.Share(pass)
		}
		return isDam(kind)
	}
	note(e)
	for _, d := range out {
		if net.Net.Edges[d].Length <= damBelow && note(d) {
			t.Pass[d] = 1
		}
	}
	if net.Net.Edges[e].Length <= damBelow {
		for _, u := range net.Net.In(net.Net.Edges[e].From) {
			if l.of[u] == l.of[e] {
				note(u)
			}
		}
	}
	return share
}

func isDam(kind stream.Barrier) bool { return kind == stream.Dam || kind == stream.Reservoir }

// reach is the network's Reach, extended to all of each lake it touches.
func (l *lakes) reach(net *flow.Network, t flow.Transport, places []flow.Place, bound flow.Bound, walker *flow.Walker) []flow.Piece {
	return l.spread(net, net.Reach(t, places, bound, walker))
}

// meets reports whether any piece is on a lake.
func (l *lakes) meets(pieces []flow.Piece) bool {
	return l != nil && slices.ContainsFunc(pieces, func(p flow.Piece) bool { return l.of[p.Edge] >= 0 })
}

// spread replaces the pieces on a lake by all of its edges, with the largest share and the
// fewest hours of any of those pieces. Pieces stay in order of edge and offset.
func (l *lakes) spread(net *flow.Network, pieces []flow.Piece) []flow.Piece {
	if !l.meets(pieces) {
		return pieces
	}
	best := map[int32]flow.Piece{}
	var out []flow.Piece
	for _, p := range pieces {
		on := l.of[p.Edge]
		if on < 0 {
			out = append(out, p)
			continue
		}
		b, met := best[on]
		if !met {
			b = p
		}
		b.ShareFrom, b.HoursFrom, b.SlowFrom = max(b.ShareFrom, p.ShareFrom), min(b.HoursFrom, p.HoursFrom), min(b.SlowFrom, p.SlowFrom)
		best[on] = b
	}
	for on, b := range best { // sorted below
		for _, e := range l.edges[on] {
			out = append(out, flow.Piece{
				Edge: e, From: 0, To: net.Edges[e].Length, ShareFrom: b.ShareFrom, ShareTo: b.ShareFrom,
				HoursFrom: b.HoursFrom, HoursTo: b.HoursFrom, SlowFrom: b.SlowFrom,
			})
		}
	}
	slices.SortFunc(out, func(a, b flow.Piece) int { return cmp.Or(cmp.Compare(a.Edge, b.Edge), cmp.Compare(a.From, b.From)) })
	return out
}

// crowded returns, by lake, whether the amount afloat from all sources is above floor anywhere on
// it. All of such a lake counts as above floor, since the wind may blow it anywhere. What
// entered must be sorted by place.
func (l *lakes) crowded(net *flow.Network, rate losses, x load, entered []drop, floor Amount) []bool {
	if l == nil {
		return nil
	}
	out, drops := make([]bool, len(l.edges)), x.drops
	var known []stretch
	for e, on := range l.of {
		own := takeEdge(&entered, int32(e), func(d *drop) int32 { return d.at.Edge })
		dropped := takeEdge(&drops, int32(e), func(d *drop) int32 { return d.at.Edge })
		if on >= 0 && !out[on] {
			known = levels(known[:0], &net.Edges[e], rate.on(int32(e)), x.inflow[e], own, dropped)
			out[on] = slices.ContainsFunc(known, func(s stretch) bool { return s.to > s.from && s.amount > floor })
		}
	}
	return out
}

// among reports whether an edge is on one of the marked lakes.
func (l *lakes) among(marked []bool, e int32) bool {
	return l != nil && l.of[e] >= 0 && marked[l.of[e]]
}

// landing returns the hours over each edge to a place where fragments may land. They are 0 on a
// lake: how long the wind takes to blow a fragment across is unknown.
func (l *lakes) landing(t times) times {
	if l == nil {
		return t
	}
	t.mean, t.fast = slices.Clone(t.mean), slices.Clone(t.fast)
	for e, on := range l.of {
		if on >= 0 {
			t.mean[e], t.fast[e] = 0, 0
		}
	}
	return t
}

// stillHours returns the longest time that any path down the network takes over edges on which next
// to nothing is lost.
func stillHours(net *flow.Network, t flow.Transport, hours []geo.Hours) geo.Hours {
	most, at := geo.Hours(0), make([]geo.Hours, len(net.Nodes))
	for e := range net.Edges {
		edge := &net.Edges[e]
		x := at[edge.From]
		if isStill(losses(t.Rate).on(int32(e))) {
			x += hours[e]
		}
		at[edge.To], most = max(at[edge.To], x), max(most, x)
	}
	return most
}

// isStill reports whether a loss per metre is that of open water, even after scaling by a draw or a
// flood.
func isStill(rate PerMeter) bool { return rate <= 10*stillRate }
