package shape

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// quadtree finds capsules where very many lie together: squares of four squares
// each, down to those that few capsules pass through. Capsules are in random order
// in each, so that of many the first few cover what most of them cover.
type quadtree struct {
	capsules *capsules
	squares  []quadtreeSquare
	widest   float64
}

// quadtreeSquare is a square by its middle; its quarters follow each other.
type quadtreeSquare struct {
	x, y, half float64
	quarters   int32 // the first of four; -1 when it is not divided
	items      []int32
}

const (
	// crowded is from how many capsules near an element on the quadtree is asked.
	// Our choice: trying each costs less up to there.
	crowded = 256
	// fewCapsules is how many may pass through a square that is not divided. Our choice.
	fewCapsules = 32
	// finestShare is the least half side of a square, as a share of the widest
	// capsule. Our choice: what may come nearer than that to a place is few.
	finestShare = 1.0 / 32
	// wholeShare is from what length down a part is not halved any more, as a share
	// of the widest capsule. Our choice: what is near its halves is near all of it.
	wholeShare = 1.0 / 4
	// mostPerCapsule bounds the squares that a capsule is listed in, on average. Our
	// choice: 2 kB a capsule.
	mostPerCapsule = 512
)

func newQuadtree(s *capsules) *quadtree {
	t := &quadtree{capsules: s, widest: s.grid.widest}
	all := make([]int32, len(s.capsules))
	for i := range all {
		all[i] = int32(i)
	}
	// a fixed seed: the order shall only not be that of the lines
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

// passes reports whether the segment of capsule j meets a square: on no axis, its
// own included, do the two lie apart.
func (t *quadtree) passes(j int32, q quadtreeSquare) bool {
	capsule := &t.capsules.capsules[j]
	a, b := t.capsules.nodes[capsule.a], t.capsules.nodes[capsule.b]
	hx, hy := (b.x-a.x)/2, (b.y-a.y)/2
	x, y := a.x+hx-q.x, a.y+hy-q.y
	half := q.half * (1 + 1e-9)
	return math.Abs(x) <= half+math.Abs(hx) && math.Abs(y) <= half+math.Abs(hy) &&
		math.Abs(hx*y-hy*x) <= half*(math.Abs(hx)+math.Abs(hy))
}

// visit calls do with capsules that may come within reach of a place, each as often
// as squares list it, those near by first, until do returns false.
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

// element is a side or joint under which parts are looked for, from 0 to its
// length.
type element struct {
	scale  float64                                              // metres for each unit along it
	around func(from, to float64) (mid orb.Point, half float64) // a disc that holds a part of it
	under  func(j int32) bool                                   // puts what capsule j covers into the intervals; false when that made no sense
}

// patience is how many capsules are tried before what is still bare is looked at
// anew. Our choice.
const patience = 16

// cover puts what covers an element from one place to another into the intervals: it
// tries capsules near by and, when what is bare after some of them is less, or many
// are left, goes on with that, in halves. False when a capsule made no sense.
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
