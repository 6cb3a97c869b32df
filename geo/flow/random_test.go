package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// drawLines draws a small network with braids by node names: lines run from a smaller to a larger
// node number.
func drawLines(t *rapid.T) []Line {
	nodes := rapid.IntRange(2, 9).Draw(t, "nodes")
	count := rapid.IntRange(1, 16).Draw(t, "lines")
	lines := make([]Line, count)
	for i := range lines {
		from := rapid.IntRange(0, nodes-2).Draw(t, "from")
		to := rapid.IntRange(from+1, nodes-1).Draw(t, "to")
		l := plain(fmt.Sprintf("line%02d", i), spot(from), spot(to))
		l.From, l.To = fmt.Sprint("n", from), fmt.Sprint("n", to)
		l.Length = geo.Meters(rapid.IntRange(1, 3000).Draw(t, "length"))
		l.Area = geo.SquareKilometers(float64(rapid.IntRange(0, 50).Draw(t, "area")))
		if rapid.Bool().Draw(t, "has share") {
			// the product of a few is still a number
			l.Share = rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-12, 1)).Draw(t, "share")
		}
		lines[i] = l
	}
	return lines
}

// spot returns the position of a drawn node.
func spot(i int) orb.Point { return orb.Point{float64(i%3) * 0.01, -float64(i) * 0.01} }

// drawTransport draws rates, passes and, when asked, hours.
func drawTransport(t *rapid.T, n *Network, timed bool) Transport {
	tr := everywhere(n, 0)
	for i := range n.Edges {
		tr.Rate[i] = rapid.SampledFrom([]float64{0, 1e-4, 5e-4, 2e-3}).Draw(t, "rate")
		tr.Pass[i] = rapid.SampledFrom([]float64{0, 0.3, 0.7, 1, 1, 1}).Draw(t, "pass")
		if timed {
			tr.Hours = append(tr.Hours, geo.Hours(rapid.Float64Range(0, 10).Draw(t, "hours")))
		}
	}
	tr.Limit = 12
	if rapid.Bool().Draw(t, "dry lines") {
		for i := range n.Edges {
			tr.Share = append(tr.Share, n.Edges[i].Share*rapid.SampledFrom([]float64{0, 0.5, 1, 1}).Draw(t, "wet"))
		}
	}
	return tr
}

// drawPlaces draws places on edges.
func drawPlaces(t *rapid.T, n *Network) []Place {
	places := make([]Place, rapid.IntRange(1, 4).Draw(t, "places"))
	for i := range places {
		e := rapid.IntRange(0, len(n.Edges)-1).Draw(t, "edge")
		places[i] = Place{int32(e), n.Edges[e].Length * geo.Meters(rapid.Float64Range(0, 1).Draw(t, "along"))}
	}
	return places
}

// pathWalker follows every path from a place separately: an independent check of Sweep and Reach.
type pathWalker struct {
	n       *Network
	t       Transport
	reached map[int32]arrival // by edge, at its upper end or at the place
	settled float64
	held    float64
	left    float64
}

// arrival is what all paths together bring to a place on an edge: the sum of their shares, divided
// where the flow divides; the best undivided share of one path; and the hours of the fastest.
type arrival struct{ offset, sum, best, hours float64 }

// follow walks from an offset on an edge with a share afloat, divided and undivided, the hours so
// far and an amount that divides.
func (w *pathWalker) follow(edge int32, offset, divided, share, hours, amount float64) {
	e := w.n.Edges[edge]
	rest := float64(e.Length) - offset
	perMeter := 0.0
	if w.t.Hours != nil {
		perMeter = float64(w.t.Hours[edge]) / float64(e.Length)
	}
	if divided > 0 {
		a, met := w.reached[edge]
		if !met {
			a = arrival{offset: offset, hours: math.Inf(1)}
		}
		a.sum, a.best, a.hours = a.sum+divided, max(a.best, share), min(a.hours, hours)
		w.reached[edge] = a
	}
	afloat := math.Exp(-w.t.Rate[edge] * rest)
	w.settled += amount * (1 - afloat)
	w.held += amount * afloat * (1 - w.t.Pass[edge])
	on := afloat * w.t.Pass[edge]
	next := w.n.Downstream(edge)
	if len(next) == 0 {
		w.left += amount * on
	}
	taken := 0.0
	for _, d := range next {
		part := w.n.Edges[d].Share
		if w.t.Share != nil {
			part = w.t.Share[d]
		}
		taken += part
		w.follow(d, 0, divided*on*part, share*on, hours+perMeter*rest, amount*on*part)
	}
	if len(next) > 0 {
		w.settled += amount * on * (1 - taken)
	}
}

// interval returns the part of an edge reached by an arrival.
func (w *pathWalker) interval(edge int32, a arrival, b Bound) [2]float64 {
	share := a.best
	if b.Divided {
		share = a.sum
	}
	far := float64(w.n.Edges[edge].Length) - a.offset
	if !(share >= b.Floor && a.hours <= float64(w.t.Limit)) {
		far = 0
	} else {
		if w.t.Rate[edge] > 0 {
			far = min(far, math.Log(share/b.Floor)/w.t.Rate[edge])
		}
		if w.t.Hours != nil && w.t.Hours[edge] > 0 {
			far = min(far, (float64(w.t.Limit)-a.hours)/float64(w.t.Hours[edge])*float64(w.n.Edges[edge].Length))
		}
	}
	return [2]float64{a.offset, a.offset + far}
}

// covered returns the length of a union of intervals.
func covered(intervals [][2]float64) float64 {
	slices.SortFunc(intervals, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	length, end := 0.0, math.Inf(-1)
	for _, iv := range intervals {
		if from := max(iv[0], end); iv[1] > from {
			length += iv[1] - from
			end = iv[1]
		}
	}
	return length
}

// TestReachAgainstEveryPath compares Reach, divided and undivided, with and without a time limit,
// with a walk of every path from each place: the same length on every edge to 1e-6 m, and disjoint
// pieces.
func TestReachAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, _ := Build(drawLines(t), DefaultOptions())
		tr := drawTransport(t, n, rapid.Bool().Draw(t, "timed"))
		places := drawPlaces(t, n)
		b := Bound{Floor: rapid.SampledFrom([]float64{0.05, 0.3, 0.9}).Draw(t, "floor"), Divided: rapid.Bool().Draw(t, "divided")}
		limited := tr
		if tr.Hours == nil {
			limited.Limit = never
		}
		reached := map[int32][][2]float64{}
		for _, p := range places {
			w := pathWalker{n: n, t: limited, reached: map[int32]arrival{}}
			w.follow(p.Edge, float64(p.Offset), 1, 1, 0, 1)
			for edge, a := range w.reached {
				reached[edge] = append(reached[edge], w.interval(edge, a, b))
			}
		}
		got := make([]float64, len(n.Edges))
		last := Piece{Edge: -1}
		for _, p := range n.Reach(tr, places, b, n.NewWalker()) {
			if p.Edge < last.Edge || p.Edge == last.Edge && p.From < last.To || p.To <= p.From || p.To > n.Edges[p.Edge].Length {
				t.Fatalf("piece %+v after %+v", p, last)
			}
			if p.ShareTo < b.Floor-1e-9 || p.ShareFrom > 1+1e-9 {
				t.Fatalf("shares of %+v", p)
			}
			got[p.Edge] += float64(p.To - p.From)
			last = p
		}
		for e := range n.Edges {
			if want := covered(reached[int32(e)]); math.Abs(got[e]-want) > 1e-6 {
				t.Fatalf("edge %d: %g m, every path gives %g", e, got[e], want)
			}
		}
	})
}

// TestSweepAgainstEveryPath compares the mass balance of Sweep and Fate with the walk
// of every path, to 1e-9.
func TestSweepAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, _ := Build(drawLines(t), DefaultOptions())
		tr := drawTransport(t, n, false)
		var sources []Source
		var fates Balance
		w := pathWalker{n: n, t: tr, reached: map[int32]arrival{}}
		fate := n.Fate(tr)
		for _, p := range drawPlaces(t, n) {
			amount := rapid.Float64Range(0, 100).Draw(t, "amount")
			sources = append(sources, Source{p, amount})
			w.follow(p.Edge, float64(p.Offset), 1, 1, 0, amount)
			f := fate.From(p)
			fates.Held += amount * f.Held
			fates.Left += amount * f.Left
			fates.Settled += amount * f.Settled
			fates.Released += amount
		}
		got := n.Sweep(tr, sources).Balance
		want := Balance{fates.Released, w.settled, w.held, w.left}
		close := cmpopts.EquateApprox(1e-9, 1e-9)
		if d := cmp.Diff(want, got, close); d != "" {
			t.Fatalf("sweep: %s", d)
		}
		if d := cmp.Diff(want, fates, close); d != "" {
			t.Fatalf("fates: %s", d)
		}
		if total := got.Settled + got.Held + got.Left; math.Abs(total-got.Released) > 1e-9*got.Released {
			t.Fatalf("released %g, accounted for %g", got.Released, total)
		}
	})
}

// TestTotalsAgainstSets compares the union totals with sets of upstream lines collected one by one.
func TestTotalsAgainstSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := drawLines(t)
		n, _ := Build(lines, DefaultOptions())
		checkTotals(t, n, lines)
	})
}

// checkTotals compares every edge's totals with a search upstream.
func checkTotals(t interface{ Fatalf(string, ...any) }, n *Network, lines []Line) {
	for e := range n.Edges {
		seen := map[int32]bool{int32(e): true}
		queue := []int32{int32(e)}
		var km, km2 float64
		for len(queue) > 0 {
			i := queue[0]
			queue = queue[1:]
			km += float64(n.Edges[i].Length.Kilometers())
			km2 += float64(lines[n.Edges[i].Line].Area)
			for _, up := range n.In(n.Edges[i].From) {
				if !seen[up] {
					seen[up] = true
					queue = append(queue, up)
				}
			}
		}
		if math.Abs(km-float64(n.Edges[e].UpstreamKm)) > 1e-9*(1+km) || math.Abs(km2-float64(n.Edges[e].Drainage)) > 1e-9*(1+km2) {
			t.Fatalf("edge %d: %g km %g km2, by sets %g %g", e, n.Edges[e].UpstreamKm, n.Edges[e].Drainage, km, km2)
		}
	}
}

// TestTotalsOfLattice does the same on one braid large enough for the table sums: 40 by 40 nodes.
func TestTotalsOfLattice(t *testing.T) {
	lines := lattice(40)
	for i := range lines {
		lines[i].Area = geo.SquareKilometers(float64(i % 7))
	}
	n, _ := Build(lines, DefaultOptions())
	checkTotals(t, n, lines)
}

// TestOrderOfRecords builds shuffled records with 1 and 3 workers, canals drawn across a network of
// streams among them: everything is the same except the line indices.
func TestOrderOfRecords(t *testing.T) {
	lines := grown(atSize(3000, 1000), false)
	r := rand.New(rand.NewPCG(5, 6))
	for i := range 40 {
		from, to := lines[r.IntN(len(lines))].Path[0], lines[r.IntN(len(lines))].Path[0]
		lines = append(lines, wiggle(fmt.Sprintf("C%02d", i), from, to, 0, r))
	}
	o := DefaultOptions()
	n, troubles := Build(lines, o)
	if len(troubles) < 100 {
		t.Fatalf("%d troubles: too few to show their order", len(troubles))
	}
	order := rand.New(rand.NewPCG(3, 4)).Perm(len(lines))
	shuffled := make([]Line, len(lines))
	for i, j := range order {
		shuffled[i] = lines[j]
	}
	o.Workers = 3
	m, more := Build(shuffled, o)
	for i := range m.Edges {
		m.Edges[i].Line = int32(order[m.Edges[i].Line])
	}
	for i := range more {
		for k := range more[i].Lines {
			more[i].Lines[k] = int32(order[more[i].Lines[k]])
		}
	}
	same := cmp.Comparer(func(a, b geo.SquareKilometers) bool { return a == b || a != a && b != b })
	if d := cmp.Diff(n.Edges, m.Edges, same); d != "" {
		t.Errorf("edges differ: %s", d)
	}
	if d := cmp.Diff(n.Nodes, m.Nodes); d != "" {
		t.Errorf("nodes differ: %s", d)
	}
	if d := cmp.Diff(troubles, more); d != "" {
		t.Errorf("troubles differ: %s", d)
	}
}
