package shape

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// quadtree finds capsules where very many crowd together: squares, each divided into four, until
// few capsules pass through one. Each square lists its capsules in random order, so that the first
// few usually cover what all of them cover.
type quadtree struct {
	capsules *capsules
	squares  []quadtreeSquare
	widest   float64
}

// quadtreeSquare is a square, given by its middle. Its four quarters are stored one after another.
type quadtreeSquare struct {
	x, y, half float64
	quarters   int32 // the first of four; -1 when it is not divided
	items      []int32
}

const (
	// crowded is the number of capsules near an element from which the quadtree is used. Our choice:
	// below it, trying each capsule is faster.
	crowded = 256
	// fewCapsules is the largest number of capsules through a square that is not divided. Our
	// choice.
	fewCapsules = 32
	// finestShare is the smallest half side of a square, as a share of the widest capsule. Our choice:
	// few capsules pass nearer than that to one place.
	finestShare = 1.0 / 32
	// wholeShare is the length below which a part is not halved again, as a share of the widest
	// capsule. Our choice: the capsules near its halves are those near the whole.
	wholeShare = 1.0 / 4
	// mostPerCapsule limits the squares that list a capsule, on average. Our choice: 2 kB a capsule.
	mostPerCapsule = 512
)

func newQuadtree(s *capsules) *quadtree {
	t := &quadtree{capsules: s, widest: s.grid.widest}
	all := make([]int32, len(s.capsules))
	for i := range all {
		all[i] = int32(i)
	}
	// a fixed seed: the order must only differ from that of the lines
	rand.New(rand.NewPCG(1, 1)).Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
	half := max(float64(s.grid.columns), float64(s.grid.rows)) * s.grid.cell / 2
	t.squares = append(t.squares, quadtreeSquare{s.grid.x + half, s.grid.y + half, half, -1, all})
	room := mostPerCapsule * len(all)
	for k := 0; k < len(t.squares) && room > 0; k++ {
		q := t.squares[k]
		if len(q.items) <= fewCapsules || q.half < finestShare*t.widest {
			continue
		}
		t.squares[k].quarters, t.squares[k].items = int32(len(t.squares)), nil
		room += len(q.items)
		for i := range 4 {
			quarter := q.quarter(i)
			for _, j := range q.items {
				if t.passes(j, quarter) {
					quarter.items = append(quarter.items, j)
				}
			}
			room -= len(quarter.items)
			t.squares = append(t.squares, quarter)
		}
	}
	return t
}

// quarter returns one of the four: 1 lies to the east, 2 to the north.
func (q quadtreeSquare) quarter(i int) quadtreeSquare {
	h := q.half / 2
	x, y := q.x-h, q.y-h
	if i&1 != 0 {
		x = q.x + h
	}
	if i&2 != 0 {
		y = q.y + h
	}
	return quadtreeSquare{x, y, h, -1, nil}
}

// passes reports whether the segment of capsule j meets a square: on no axis, including the
// segment's own, are the two apart.
func (t *quadtree) passes(j int32, q quadtreeSquare) bool {
	capsule := &t.capsules.capsules[j]
	a, b := t.capsules.nodes[capsule.a], t.capsules.nodes[capsule.b]
	hx, hy := (b.x-a.x)/2, (b.y-a.y)/2
	x, y := a.x+hx-q.x, a.y+hy-q.y
	half := q.half * (1 + 1e-9)
	return math.Abs(x) <= half+math.Abs(hx) && math.Abs(y) <= half+math.Abs(hy) &&
		math.Abs(hx*y-hy*x) <= half*(math.Abs(hx)+math.Abs(hy))
}

// visit calls do with capsules that may come within reach of a place, nearby ones first, until do
// returns false. A capsule comes once for each square that lists it.
func (t *quadtree) visit(square int32, at orb.Point, reach float64, do func(j int32) bool) bool {
	q := &t.squares[square]
	dx, dy := max(math.Abs(at[0]-q.x)-q.half, 0), max(math.Abs(at[1]-q.y)-q.half, 0)
	if dx*dx+dy*dy > reach*reach {
		return true
	}
	if q.quarters < 0 {
		for _, j := range q.items {
			if !do(j) {
				return false
			}
		}
		return true
	}
	nearest := int32(0)
	if at[0] > q.x {
		nearest |= 1
	}
	if at[1] > q.y {
		nearest |= 2
	}
	for i := range int32(4) {
		if !t.visit(q.quarters+(nearest^i), at, reach, do) {
			return false
		}
	}
	return true
}

// element is a side or joint, from 0 to its length, whose covered parts are looked for.
type element struct {
	scale  float64                                              // metres per unit along it
	around func(from, to float64) (mid orb.Point, half float64) // a disc that contains a part of it
	under  func(j int32) bool                                   // adds the parts that capsule j covers to the intervals; false when rounding makes them inconsistent
}

// patience is the number of capsules tried before the uncovered part is computed again. Our choice.
const patience = 16

// cover adds the covered parts of an element, from one place to another, to the intervals. It tries
// a few nearby capsules. If they cover much, it goes on with the uncovered part; if not, it does
// each half separately. False when rounding makes a capsule's part inconsistent.
func (t *quadtree) cover(w *capsuleScratch, e element, from, to float64) bool {
	for {
		from, to = w.covered.open(from, to)
		if (to-from)*e.scale < shortestArc {
			return true
		}
		mid, half := e.around(from, to)
		w.round++
		tried, sound := 0, true
		all := t.visit(0, mid, half+t.widest, func(j int32) bool {
			if w.mark[j] == w.round {
				return true
			}
			w.mark[j] = w.round
			if !t.capsules.mayTouch(mid, half+touchTolerance, j) {
				return true
			}
			tried++
			sound = e.under(j)
			return sound && tried < patience
		})
		if all || !sound {
			return sound
		}
		was := to - from
		from, to = w.covered.open(from, to)
		switch {
		case to-from < was/2:
		case (to-from)*e.scale < wholeShare*t.widest:
			return t.coverAll(w, e, from, to)
		default:
			middle := (from + to) / 2
			if !t.cover(w, e, from, middle) {
				return false
			}
			from = middle
		}
	}
}

// coverAll tries every capsule near a short part.
func (t *quadtree) coverAll(w *capsuleScratch, e element, from, to float64) bool {
	mid, half := e.around(from, to)
	w.round++
	sound := true
	tried := 0
	t.visit(0, mid, half+t.widest, func(j int32) bool {
		if w.mark[j] == w.round {
			return true
		}
		w.mark[j] = w.round
		if !t.capsules.mayTouch(mid, half+touchTolerance, j) {
			return true
		}
		if sound = e.under(j); !sound {
			return false
		}
		if tried++; tried%patience == 0 {
			if from, to = w.covered.open(from, to); (to-from)*e.scale < shortestArc {
				return false
			}
			mid, half = e.around(from, to)
		}
		return true
	})
	return sound
}
