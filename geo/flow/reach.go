package flow

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
)

// Piece is a stretch of one edge that is reached, in metres below the edge's
// upstream end, From < To. Shares are the largest that any path brings
// there, hours the fewest.
type Piece struct {
	Edge               int32
	From, To           geo.Meters
	ShareFrom, ShareTo float64
	HoursFrom, HoursTo float64
}

// Walker holds the working memory of Reach for one goroutine.
type Walker struct {
	slot   []int32 // by edge: 1 + entry, 0 for not reached
	heap   []int32 // edges to do, smallest first
	entry  []int32 // labels at the upstream end of reached edges: 1 + first label
	labels []label
	used   []int32 // edges whose slot is to be cleared
	places []Place
	front  []label
	pieces []Piece
}

// NewWalker returns a walker for a network. Memory is 4 bytes an edge.
func (n *Network) NewWalker() *Walker { return &Walker{slot: make([]int32, len(n.Edges))} }

// label is one way to come to a place: cost is -ln of the share still afloat.
type label struct {
	cost, hours float64
	next        int32 // 1 + next label of the same place
}

// maxLabels bounds how many ways to a place are kept that trade share against
// time. Our choice; beyond it the ways with the largest share and with the
// fewest hours stay, and the reach may come out short.
const maxLabels = 16

// Reach returns all stream downstream of the places where at least the share
// floor is still afloat along some path from one of them, and, when Transport has
// Hours, at most Limit hours have passed on that same path. Water that parts is
// not divided: every branch is followed. Pieces are disjoint, in order of edge
// and offset, and end at exact cut points; a new piece begins at each place.
//
// The slice is the walker's until its next call. Transport must be valid. The
// work is that of the edges reached, with a heap over them: about 0.1 us each.
// Safe for concurrent use with one walker for each goroutine.
func (n *Network) Reach(t Transport, places []Place, floor float64, w *Walker) []Piece {
	w.begin(places)
	limit := label{cost: -math.Log(floor), hours: math.Inf(1)}
	if t.Hours != nil {
		limit.hours = t.Limit
	}
	next := 0
	for len(w.heap) > 0 {
		edge := w.pop()
		first := next
		for next < len(w.places) && w.places[next].Edge == edge {
			next++
		}
		n.walkEdge(t, edge, w.places[first:next], limit, w)
	}
	for _, e := range w.used {
		w.slot[e] = 0
	}
	return w.pieces
}

// begin clears the walker and puts the places' edges on the heap.
func (w *Walker) begin(places []Place) {
	w.heap, w.entry, w.labels, w.used = w.heap[:0], w.entry[:0], w.labels[:0], w.used[:0]
	w.pieces, w.places = w.pieces[:0], w.places[:0]
	for _, p := range places {
		if p.Edge >= 0 {
			w.places = append(w.places, p)
		}
	}
	if len(w.places) > 1 {
		slices.SortFunc(w.places, func(a, b Place) int {
			if a.Edge != b.Edge {
				return cmp.Compare(a.Edge, b.Edge)
			}
			return cmp.Compare(a.Offset, b.Offset)
		})
	}
	for _, p := range w.places {
		w.open(p.Edge)
	}
}

// open puts an edge on the heap unless it was there.
func (w *Walker) open(edge int32) {
	if w.slot[edge] != 0 {
		return
	}
	w.entry = append(w.entry, 0)
	w.slot[edge] = int32(len(w.entry))
	w.used = append(w.used, edge)
	w.push(edge)
}

// walkEdge adds the pieces of one edge and carries on what comes to its end.
func (n *Network) walkEdge(t Transport, edge int32, places []Place, limit label, w *Walker) {
	span := float64(n.Edges[edge].Length)
	perMeter := label{cost: t.Rate[edge]}
	if t.Hours != nil && span > 0 {
		perMeter.hours = t.Hours[edge] / span
	}
	w.front = w.front[:0]
	for l := w.entry[w.slot[edge]-1]; l != 0; l = w.labels[l-1].next {
		w.front = append(w.front, w.labels[l-1])
	}
	at := 0.0
	for _, p := range places {
		offset := min(max(float64(p.Offset), 0), span)
		if offset > at || len(w.front) == 0 {
			w.stretch(edge, at, offset, perMeter, limit)
			at = offset
		}
		// at the place itself the whole of it is afloat: nothing does better
		w.front = append(w.front[:0], label{})
	}
	w.stretch(edge, at, span, perMeter, limit)
	n.carryOn(t, edge, limit, w)
}

// stretch adds the pieces that the labels at from reach before to, cut where a
// label comes to its end, and moves those that come so far on to it.
func (w *Walker) stretch(edge int32, from, to float64, perMeter, limit label) {
	at := from
	for len(w.front) > 0 && at < to {
		start := best(w.front)
		x := to - at
		for _, l := range w.front {
			x = min(x, room(limit.cost-l.cost, perMeter.cost), room(limit.hours-l.hours, perMeter.hours))
		}
		if x > 0 {
			w.addPiece(edge, at, x, start, perMeter)
		}
		// labels that end here go; x is exactly the room of at least one, or the rest
		kept := w.front[:0]
		for _, l := range w.front {
			if room(limit.cost-l.cost, perMeter.cost) > x && room(limit.hours-l.hours, perMeter.hours) > x || x == to-at {
				kept = append(kept, label{cost: l.cost + perMeter.cost*x, hours: l.hours + perMeter.hours*x})
			}
		}
		w.front = kept
		if x == to-at {
			return
		}
		at += x
	}
}

// addPiece adds a piece x metres long.
func (w *Walker) addPiece(edge int32, at, x float64, start, perMeter label) {
	if p := len(w.pieces) - 1; p >= 0 && w.pieces[p].Edge == edge && float64(w.pieces[p].To) == at &&
		w.pieces[p].ShareTo == math.Exp(-start.cost) && w.pieces[p].HoursTo == start.hours {
		w.pieces[p].To = geo.Meters(at + x)
		w.pieces[p].ShareTo = math.Exp(-(start.cost + perMeter.cost*x))
		w.pieces[p].HoursTo = start.hours + perMeter.hours*x
		return
	}
	w.pieces = append(w.pieces, Piece{
		Edge: edge, From: geo.Meters(at), To: geo.Meters(at + x),
		ShareFrom: math.Exp(-start.cost), ShareTo: math.Exp(-(start.cost + perMeter.cost*x)),
		HoursFrom: start.hours, HoursTo: start.hours + perMeter.hours*x,
	})
}

// room returns how far a margin lasts at a rate.
func room(margin, rate float64) float64 {
	if margin < 0 {
		return 0
	}
	if rate == 0 {
		return math.Inf(1)
	}
	return margin / rate
}

// best returns the smallest cost and the fewest hours of several labels.
func best(labels []label) label {
	b := labels[0]
	for _, l := range labels[1:] {
		b.cost, b.hours = min(b.cost, l.cost), min(b.hours, l.hours)
	}
	return b
}

// carryOn hands the labels at the downstream end of an edge to the edges below.
func (n *Network) carryOn(t Transport, edge int32, limit label, w *Walker) {
	pass := t.Pass[edge]
	if len(w.front) == 0 || pass == 0 {
		return
	}
	extra := 0.0
	if pass < 1 {
		extra = -math.Log(pass)
	}
	out := n.Out(n.Edges[edge].To)
	for _, l := range w.front {
		l.cost += extra
		if l.cost > limit.cost || l.hours > limit.hours {
			continue
		}
		for _, d := range out {
			w.open(d)
			w.offer(d, l)
		}
	}
}

// offer adds a label at the upstream end of an edge unless one there is at least
// as good in both respects; labels that it beats go.
func (w *Walker) offer(edge int32, l label) {
	head := &w.entry[w.slot[edge]-1]
	count := 0
	for link := head; *link != 0; {
		old := &w.labels[*link-1]
		if old.cost <= l.cost && old.hours <= l.hours {
			return
		}
		if l.cost <= old.cost && l.hours <= old.hours {
			*link = old.next
			continue
		}
		count++
		link = &old.next
	}
	if count >= maxLabels && !w.makeRoom(head, l) {
		return
	}
	l.next = *head
	w.labels = append(w.labels, l)
	*head = int32(len(w.labels))
}

// makeRoom takes out the label, between the two that are best in one respect,
// with the smallest share and reports whether l may have its place.
func (w *Walker) makeRoom(head *int32, l label) bool {
	cheapest, quickest := math.Inf(1), math.Inf(1)
	for i := *head; i != 0; i = w.labels[i-1].next {
		cheapest, quickest = min(cheapest, w.labels[i-1].cost), min(quickest, w.labels[i-1].hours)
	}
	var worst *int32
	for link := head; *link != 0; link = &w.labels[*link-1].next {
		old := &w.labels[*link-1]
		if old.cost > cheapest && old.hours > quickest && (worst == nil || old.cost > w.labels[*worst-1].cost) {
			worst = link
		}
	}
	if worst == nil {
		return false
	}
	if l.cost > w.labels[*worst-1].cost && l.hours > quickest {
		return false
	}
	*worst = w.labels[*worst-1].next
	return true
}

// push adds an edge to the heap.
func (w *Walker) push(edge int32) {
	w.heap = append(w.heap, edge)
	i := len(w.heap) - 1
	for i > 0 {
		parent := (i - 1) / 2
		if w.heap[parent] <= w.heap[i] {
			break
		}
		w.heap[parent], w.heap[i] = w.heap[i], w.heap[parent]
		i = parent
	}
}

// pop takes the smallest edge off the heap.
func (w *Walker) pop() int32 {
	top := w.heap[0]
	last := len(w.heap) - 1
	w.heap[0] = w.heap[last]
	w.heap = w.heap[:last]
	for i := 0; ; {
		child := 2*i + 1
		if child >= last {
			break
		}
		if child+1 < last && w.heap[child+1] < w.heap[child] {
			child++
		}
		if w.heap[i] <= w.heap[child] {
			break
		}
		w.heap[i], w.heap[child] = w.heap[child], w.heap[i]
		i = child
	}
	return top
}
