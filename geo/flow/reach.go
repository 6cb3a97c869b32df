package flow

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
)

// Piece is a stretch of one edge that is reached, in metres below the edge's upstream end, From <
// To. A piece that ends at the edge's lower end has exactly its Length as To. The share is the
// largest, and the hours the shortest, of all releases that reach the whole piece.
type Piece struct {
	Edge               int32
	From, To           geo.Meters
	ShareFrom, ShareTo float64
	HoursFrom, HoursTo geo.Hours
	SlowFrom           geo.Hours
}

// Bound says where a reach ends and how shares are counted where water divides.
type Bound struct {
	Floor   float64 // smallest share still afloat, above 0
	Divided bool    // each branch takes its part of the flow, and parts that meet again add up; otherwise each branch carries the whole, and the best path counts
}

// Walker holds the working memory of Reach for one worker.
type Walker struct {
	slot    []int32 // by edge: 1 + entry, 0 for not reached
	heap    []int32 // edges still to be followed, smallest first
	entry   []int32 // labels at the upstream end of reached edges: 1 + first label
	labels  []label
	used    []int32 // edges whose slot is to be cleared
	places  []Place
	origins []origin // by place
	front   []label
	ends    []float64 // by label of front: how far down the edge it gets
	pieces  []Piece
}

// NewWalker returns a walker for a network. Memory is 4 bytes per edge.
func (n *Network) NewWalker() *Walker { return &Walker{slot: make([]int32, len(n.Edges))} }

// label is the part of one place's release that arrives at an edge: the share afloat and the travel
// hours by the fastest path.
type label struct {
	origin      int32 // index into Walker.places
	share       float64
	hours, slow geo.Hours
	next        int32 // 1 + next label of the same edge
}

// origin sums up the part of one place's release that is still on its way: the number of edges it
// has yet to pass (pending), how many of those have a share at or above the floor (strong) and
// hours within the limit (young), and the total share on them. When every share is below the floor,
// or every part is past the limit, the release reaches nothing more.
type origin struct {
	pending, strong, young int32
	share                  float64
}

// maxLabels limits how many releases are kept apart on one edge. Our choice. Beyond it the smallest
// shares are dropped, and the reach may be too short.
const maxLabels = 64

// Reach returns all stream downstream of the places where, from at least one place, a share of
// b.Floor or more may still be afloat. With Transport.Hours, the first to arrive must also have
// travelled for at most Limit hours. The result is the union over the places, so adding a place
// never shortens it. An edge whose share of the flow is 0 carries nothing. Pieces are disjoint, in
// order of edge and offset, and end at exact cut points; a new piece begins at each place.
//
// The slice is valid until the walker's next call. Transport must be valid. Time is about 0.1 us
// for each edge reached, plus a heap of edges, and more for each release that is on several
// branches at once. Safe for concurrent use with one walker per worker.
func (n *Network) Reach(t Transport, places []Place, b Bound, w *Walker) []Piece {
	w.begin(places)
	walk := n.newWalk(t, b, w)
	return walk.all()
}

// newWalk returns a walk that has no releases yet.
func (n *Network) newWalk(t Transport, b Bound, w *Walker) walk {
	walk := walk{Network: n, Walker: w, t: t, floor: b.Floor, divided: b.Divided, limit: never}
	if t.Hours != nil {
		walk.limit = t.Limit
	}
	return walk
}

// all follows all edges on the heap and returns the pieces.
func (w *walk) all() []Piece {
	next := 0
	for len(w.heap) > 0 {
		edge := w.pop()
		first := next
		for next < len(w.places) && w.places[next].Edge == edge {
			next++
		}
		w.along(edge, first, next)
	}
	for _, e := range w.used {
		w.slot[e] = 0
	}
	return w.pieces
}

// begin clears the walker and puts the places' edges on the heap.
func (w *Walker) begin(places []Place) {
	w.heap, w.entry, w.labels, w.used = w.heap[:0], w.entry[:0], w.labels[:0], w.used[:0]
	w.pieces, w.places, w.origins = w.pieces[:0], w.places[:0], w.origins[:0]
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
		w.origins = append(w.origins, origin{})
		w.open(p.Edge)
	}
}

// open puts an edge on the heap unless it was there already.
func (w *Walker) open(edge int32) {
	if w.slot[edge] != 0 {
		return
	}
	w.entry = append(w.entry, 0)
	w.slot[edge] = int32(len(w.entry))
	w.used = append(w.used, edge)
	w.push(edge)
}

// never is later than any arrival.
var never = geo.Hours(math.Inf(1))

// walk is one call of Reach.
type walk struct {
	*Network
	*Walker
	t       Transport
	floor   float64
	limit   geo.Hours
	divided bool
}

// along adds the pieces of one edge, with places first to last on it, and passes on what reaches
// its end.
func (w *walk) along(edge int32, first, last int) {
	span := float64(w.Edges[edge].Length)
	w.front = w.front[:0]
	for i := w.entry[w.slot[edge]-1]; i != 0; i = w.labels[i-1].next {
		l := w.labels[i-1]
		if w.take(l) {
			w.front = append(w.front, l)
		}
	}
	w.thin()
	at := 0.0
	for i := first; i < last; i++ {
		offset := min(max(float64(w.places[i].Offset), 0), span)
		w.stretch(edge, at, offset)
		at = offset
		// drop releases that are on this edge only: a new release is at least as good from here on
		w.front = slices.DeleteFunc(w.front, func(l label) bool { return w.origins[l.origin].pending == 0 })
		w.front = append(w.front, label{origin: int32(i), share: 1})
	}
	w.stretch(edge, at, span)
	w.carryOn(edge)
}

// take removes a label from an edge and reports whether its release can still reach anything.
func (w *walk) take(l label) bool {
	o := &w.origins[l.origin]
	alive := o.young > 0 && (w.divided && o.share >= w.floor*almost || !w.divided && o.strong > 0)
	w.count(l, -1)
	o.pending--
	if o.pending == 0 {
		o.share = 0 // removes the rounding of the sums
	}
	return alive
}

// almost keeps rounding in a sum of shares from ending a reach.
const almost = 1 - 1e-9

// count adds a label to the sums of its origin, or with sign -1 removes it.
func (w *walk) count(l label, sign int32) {
	o := &w.origins[l.origin]
	o.share += float64(sign) * l.share
	if l.share >= w.floor {
		o.strong += sign
	}
	if l.hours <= w.limit {
		o.young += sign
	}
}

// thin drops a release that is on this edge only if another such release is at least as good in
// every respect: the other will be as good everywhere below.
func (w *walk) thin() {
	if len(w.front) < 2 {
		return
	}
	slices.SortFunc(w.front, func(a, b label) int { return cmp.Compare(a.origin, b.origin) })
	alone := func(l label) bool { return w.origins[l.origin].pending == 0 }
	kept := w.front[:0]
	for i, l := range w.front {
		beaten := alone(l) && (slices.ContainsFunc(kept, func(o label) bool { return alone(o) && o.beats(l) }) ||
			slices.ContainsFunc(w.front[i+1:], func(o label) bool { return alone(o) && o.beats(l) && !l.beats(o) }))
		if !beaten {
			kept = append(kept, l)
		}
	}
	w.front = kept
}

// beats reports whether a label is at least as good as another in every respect.
func (l label) beats(o label) bool {
	return l.share >= o.share && l.hours <= o.hours && l.slow <= o.slow
}

// stretch moves the labels from one offset of an edge to the next. It adds the pieces they reach,
// cut where a label ends.
func (w *walk) stretch(edge int32, from, to float64) {
	if len(w.front) == 0 || !(to > from) {
		return
	}
	rate, hours, slow := w.t.Rate[edge], w.t.perMeter(w.t.Hours, edge, w.Edges[edge].Length), w.t.perMeter(w.t.Slow, edge, w.Edges[edge].Length)
	run := run{from: from, to: to, rate: rate, hours: hours, whole: math.Exp(-rate * (to - from))}
	w.ends = w.ends[:0]
	for _, l := range w.front {
		w.ends = append(w.ends, w.end(l, run))
	}
	for at := from; at < to; {
		so := 1.0
		if at > from {
			so = math.Exp(-rate * (at - from))
		}
		piece := Piece{Edge: edge, From: geo.Meters(at), To: geo.Meters(to), HoursFrom: never, SlowFrom: never}
		for i, l := range w.front {
			if w.ends[i] > at {
				piece.To = min(piece.To, geo.Meters(w.ends[i]))
				piece.ShareFrom = max(piece.ShareFrom, l.share*so)
				piece.HoursFrom = min(piece.HoursFrom, l.hours+geo.Hours(hours*(at-from)))
				piece.SlowFrom = min(piece.SlowFrom, l.slow+geo.Hours(slow*(at-from)))
			}
		}
		if piece.ShareFrom == 0 {
			break
		}
		length := float64(piece.To) - at
		piece.ShareTo, piece.HoursTo = piece.ShareFrom*run.whole, piece.HoursFrom+geo.Hours(hours*length)
		if length < to-from {
			piece.ShareTo = piece.ShareFrom * math.Exp(-rate*length)
		}
		w.pieces = append(w.pieces, piece)
		at = float64(piece.To)
	}
	for i := range w.front {
		l := &w.front[i]
		l.share, l.hours, l.slow = l.share*run.whole, l.hours+geo.Hours(hours*(to-from)), l.slow+geo.Hours(slow*(to-from))
	}
}

// run is a stretch of one edge, with its loss and hours per metre, and the share left at its end.
type run struct{ from, to, rate, hours, whole float64 }

// end returns how far a label at the start of a run gets: exactly the run's end if it gets there.
func (w *walk) end(l label, r run) float64 {
	if l.share < w.floor || l.hours > w.limit {
		return r.from
	}
	end := r.to
	if l.share*r.whole < w.floor {
		end = min(end, r.from+math.Log(l.share/w.floor)/r.rate)
	}
	if l.hours+geo.Hours(r.hours*(r.to-r.from)) > w.limit {
		end = min(end, r.from+float64(w.limit-l.hours)/r.hours)
	}
	return end
}

// perMeter returns the hours per metre of an edge; 0 where hours are not given.
func (t Transport) perMeter(hours []geo.Hours, edge int32, length geo.Meters) float64 {
	if hours == nil || length <= 0 {
		return 0
	}
	return float64(hours[edge]) / float64(length)
}

// carryOn passes the labels at the downstream end of an edge to the edges below.
func (w *walk) carryOn(edge int32) {
	pass := w.t.Pass[edge]
	if pass == 0 {
		return
	}
	w.front = slices.DeleteFunc(w.front, func(l label) bool {
		alone := w.origins[l.origin].pending == 0
		return alone && (l.share*pass < w.floor || l.hours > w.limit)
	})
	if len(w.front) == 0 {
		return
	}
	w.handOn(w.Downstream(edge), pass)
}

// handOn passes the share of every label that gets past a node to the edges below.
func (w *walk) handOn(edges []int32, pass float64) {
	for _, below := range edges {
		share := pass * w.t.EnterOf(below)
		if share == 0 {
			continue
		}
		switch part := w.t.ShareOf(w.Network, below); {
		case part == 0:
			continue
		case w.divided:
			share *= part
		}
		w.open(below)
		for _, l := range w.front {
			l.share *= share
			w.offer(below, l)
		}
	}
}

// offer adds a label at the upstream end of an edge, merged with the label of the same release if
// there is one.
func (w *walk) offer(edge int32, l label) {
	head := &w.entry[w.slot[edge]-1]
	count, least := 0, int32(0)
	for i := *head; i != 0; i = w.labels[i-1].next {
		old := &w.labels[i-1]
		if old.origin == l.origin {
			w.count(*old, -1)
			if w.divided {
				old.share += l.share
			} else {
				old.share = max(old.share, l.share)
			}
			old.hours, old.slow = min(old.hours, l.hours), min(old.slow, l.slow)
			w.count(*old, 1)
			return
		}
		count++
		if least == 0 || old.share < w.labels[least-1].share {
			least = i
		}
	}
	if count >= maxLabels {
		if old := &w.labels[least-1]; old.share < l.share {
			w.count(*old, -1)
			w.origins[old.origin].pending--
			l.next = old.next
			*old = l
			w.count(l, 1)
			w.origins[l.origin].pending++
		}
		return
	}
	w.count(l, 1)
	w.origins[l.origin].pending++
	l.next = *head
	w.labels = append(w.labels, l)
	*head = int32(len(w.labels))
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

// pop removes the smallest edge from the heap.
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
