package drift

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// negligible is the share of a release below which it is no longer followed: a thousandth of
// the error allowed in the mass balance.
const negligible = 1e-12

// outlive bounds the share of any release that is still afloat when it is too old to root:
// exp(-k x) at the lowest loss per hour of any edge, over the hours not spent on lakes.
func outlive(net *flow.Network, t flow.Transport, hours []geo.Hours, limit geo.Hours) geo.Share {
	least := math.Inf(1)
	for e := range net.Edges {
		if hours[e] > 0 && !isStill(losses(t.Rate).on(int32(e))) {
			least = min(least, t.Rate[e]*float64(net.Edges[e].Length)/float64(hours[e]))
		}
	}
	rest := max(0, limit-stillHours(net, t, hours))
	if rest == 0 {
		return 1
	}
	return geo.Share(math.Exp(-least * float64(rest)))
}

// packet is an amount of one age.
type packet struct {
	hours  geo.Hours
	amount Amount
}

// mostPackets bounds the ages kept apart at one place. Beyond it packets next to each other in
// age are merged and their amounts added. Our choice.
const mostPackets = 64

// ageing follows releases that may outlive their viability. A sweep knows amounts, not ages,
// so each source is followed on its own, in flow order, with its fragments kept apart by age.
// It is used only where outlive says it matters.
type ageing struct {
	net     *flow.Network
	t       flow.Transport
	hours   []geo.Hours // mean, by edge
	limit   geo.Hours
	inflow  []Amount // by edge: amount still viable at its upper end, of all sources
	drops   []drop
	balance []Outcome // by stand
	held    map[int32][]packet
	ready   edgeHeap
}

func newAgeing(net *flow.Network, t flow.Transport, hours []geo.Hours, limit geo.Hours) *ageing {
	return &ageing{net: net, t: t, hours: hours, limit: limit, inflow: make([]Amount, len(net.Edges)), held: map[int32][]packet{}}
}

// follow computes the mass balance of every source, age included.
func (a *ageing) follow(stands int, sources []Source) {
	a.balance = make([]Outcome, stands)
	for _, s := range sources {
		balance := &a.balance[s.Stand]
		balance.Released += s.Amount
		a.carry(balance, s.Place, packet{amount: s.Amount}, negligible*s.Amount)
		for a.ready.Len() > 0 {
			edge := heap.Pop(&a.ready).(int32)
			arrived := merge(a.held[edge])
			delete(a.held, edge)
			for _, p := range arrived {
				a.inflow[edge] += p.amount
				a.carry(balance, flow.Place{Edge: edge}, p, negligible*s.Amount)
			}
		}
	}
}

// carry takes a packet from a place to the lower end of its edge and beyond.
func (a *ageing) carry(balance *Outcome, at flow.Place, p packet, least Amount) {
	edge := &a.net.Edges[at.Edge]
	k, rest := losses(a.t.Rate).on(at.Edge), edge.Length-at.Offset
	hoursPerMeter := 0.0
	if edge.Length > 0 {
		hoursPerMeter = float64(a.hours[at.Edge]) / float64(edge.Length)
	}
	ends := p.hours+geo.Hours(hoursPerMeter*float64(rest)) > a.limit
	if ends {
		rest = geo.Meters(float64(a.limit-p.hours) / hoursPerMeter)
	}
	afloat := p.amount.part(k.left(rest))
	balance.Settled += p.amount - afloat
	balance.Exposure += AmountKm((p.amount - afloat) / Amount(k) / 1000)
	switch passed := afloat.part(geo.Share(a.t.Pass[at.Edge])); {
	case ends:
		balance.Aged += afloat
		a.drops = append(a.drops, drop{flow.Place{Edge: at.Edge, Offset: at.Offset + rest}, afloat})
	case afloat <= least: // it would settle within a few metres
		balance.Settled += afloat
	default:
		balance.Held += afloat - passed
		a.pass(balance, at.Edge, packet{hours: p.hours + geo.Hours(hoursPerMeter*float64(rest)), amount: passed})
	}
}

// pass divides the amount that gets past the lower end of an edge among the edges below.
func (a *ageing) pass(balance *Outcome, edge int32, p packet) {
	next := a.net.Downstream(edge)
	if len(next) == 0 {
		balance.Left += p.amount
	}
	taken := Amount(0)
	for _, d := range next {
		part := p.amount.part(geo.Share(a.t.ShareOf(a.net, d)))
		taken += part
		if part == 0 {
			continue
		}
		if a.held[d] == nil {
			heap.Push(&a.ready, d)
		}
		in := part.part(geo.Share(a.t.EnterOf(d)))
		balance.Held += part - in
		a.held[d] = append(a.held[d], packet{hours: p.hours, amount: in})
	}
	if len(next) > 0 && a.t.Share != nil {
		balance.Settled += p.amount - taken
	}
}

// load returns the amounts afloat from all sources followed.
func (a *ageing) load() load {
	slices.SortFunc(a.drops, func(x, y drop) int {
		return cmp.Or(cmp.Compare(x.at.Edge, y.at.Edge), cmp.Compare(x.at.Offset, y.at.Offset), cmp.Compare(x.amount, y.amount))
	})
	return load{inflow: a.inflow, drops: a.drops}
}

// merge sorts packets by age and, when there are many, adds up packets next to each other;
// their age is the mean weighted by amount.
func merge(packets []packet) []packet {
	slices.SortFunc(packets, func(a, b packet) int { return cmp.Compare(a.hours, b.hours) })
	for len(packets) > mostPackets {
		closest := 1
		for i := 2; i < len(packets); i++ {
			if packets[i].hours-packets[i-1].hours < packets[closest].hours-packets[closest-1].hours {
				closest = i
			}
		}
		a, b := packets[closest-1], packets[closest]
		sum := a.amount + b.amount
		packets[closest-1] = packet{hours: (a.hours*geo.Hours(a.amount) + b.hours*geo.Hours(b.amount)) / geo.Hours(sum), amount: sum}
		packets = slices.Delete(packets, closest, closest+1)
	}
	return packets
}

// edgeHeap gives out edges in flow order.
type edgeHeap []int32

func (h edgeHeap) Len() int           { return len(h) }
func (h edgeHeap) Less(i, j int) bool { return h[i] < h[j] }
func (h edgeHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }

// Push implements heap.Interface.
func (h *edgeHeap) Push(x any) { *h = append(*h, x.(int32)) }

// Pop implements heap.Interface.
func (h *edgeHeap) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}
