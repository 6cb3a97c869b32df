package shape

import (
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"
)

// run is a part of a ring that is monotone in both x and y, from one vertex to another. So the box
// of any part of it is that of the part's ends, and two of its sides are never closer than the ends
// of the sides between them.
type run struct {
	box      box
	number   int32 // of the ring
	from, to int32
}

// eachNear calls do with every two sides that do not keep eps apart, each pair once. A side of
// length 0, or of a length that is not a number, is passed as both sides. It stops when do returns
// false. A sweep from west to east over runs, of which a circle has only a few. Two runs whose
// boxes come near each other are halved until their parts keep apart.
func eachNear(mp orb.MultiPolygon, eps float64, do func(s, t *side) bool) {
	n := nearnesses.Get().(*nearness)
	defer n.done()
	n.eps, n.do = eps, do
	if !n.cut(mp) {
		return
	}
	slices.SortFunc(n.runs, func(p, q run) int {
		switch { // neither is NaN
		case p.box.left < q.box.left:
			return -1
		case p.box.left > q.box.left:
			return 1
		}
		return 0
	})
	for i := range n.runs {
		p := &n.runs[i]
		if !n.within(p) {
			return
		}
		right, bottom, top := p.box.right+eps, p.box.bottom-eps, p.box.top+eps
		for k := i + 1; k < len(n.runs) && n.runs[k].box.left <= right; k++ {
			q := &n.runs[k]
			if q.box.top >= bottom && q.box.bottom <= top && !n.both(p, q) {
				return
			}
		}
	}
}

// nearness looks for sides that do not keep apart.
type nearness struct {
	eps   float64
	rings []orb.Ring
	do    func(s, t *side) bool
	runs  []run
	s, t  side // the present two
}

// nearnesses has some whose slices are used again.
var nearnesses = sync.Pool{New: func() any { return new(nearness) }}

// done lets go of the rings, and keeps the slices for the next.
func (n *nearness) done() {
	clear(n.rings)
	n.rings, n.runs, n.do = n.rings[:0], n.runs[:0], nil
	nearnesses.Put(n)
}

// cut makes runs of the rings; false when do returned false.
func (n *nearness) cut(mp orb.MultiPolygon) bool {
	n.runs = slices.Grow(n.runs, vertices(mp)/4)
	for _, p := range mp {
		for _, r := range p {
			n.rings = append(n.rings, r)
			if !n.cutRing(r, int32(len(n.rings)-1)) {
				return false
			}
		}
	}
	return true
}

func (n *nearness) cutRing(r orb.Ring, number int32) bool {
	var x, y float64 // direction of the present run, 0 where not known yet
	from := int32(0)
	end := func(to int32) {
		if to > from {
			a, b := r[from], r[to]
			n.runs = append(n.runs, run{box{min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])}, number, from, to})
		}
		x, y, from = 0, 0, to
	}
	for k := range int32(len(r) - 1) {
		dx, dy := r[k+1][0]-r[k][0], r[k+1][1]-r[k][1]
		if dx == 0 && dy == 0 || math.IsNaN(dx) || math.IsNaN(dy) {
			end(k)
			from = k + 1
			n.s = sideOf(r, number, k)
			if !n.do(&n.s, &n.s) {
				return false
			}
			continue
		}
		if dx*x < 0 || dy*y < 0 {
			end(k)
		}
		if dx != 0 {
			x = dx
		}
		if dy != 0 {
			y = dy
		}
	}
	end(int32(len(r) - 1))
	return true
}

// within looks at the sides of one run. Neighbours are as far apart as they are long; other sides
// at least as far as the ends of the sides between them.
func (n *nearness) within(p *run) bool {
	square, ring := n.eps*n.eps, n.rings[p.number]
	for i := p.from; i+1 < p.to; i++ {
		for j := i + 1; j < p.to; j++ {
			if j > i+1 && squareBetween(ring[i+1], ring[j]) > square {
				break
			}
			if j == i+1 && squareBetween(ring[i], ring[j]) > square && squareBetween(ring[j], ring[j+1]) > square {
				continue
			}
			if !n.ask(p, p, i, j) {
				return false
			}
		}
	}
	return true
}

// both looks at the sides of two runs.
func (n *nearness) both(p, q *run) bool {
	if p.number == q.number {
		ring := n.rings[p.number]
		follows, leads := ring[p.to] == ring[q.from], ring[q.to] == ring[p.from]
		if leads {
			p, q = q, p
		}
		if axis := goesOn(ring, p, q); follows != leads && axis >= 0 {
			return n.onward(p, q, axis)
		}
	}
	return n.between(p, q, p.from, p.to, q.from, q.to)
}

// goesOn returns the axis along which a run goes on in the direction of the run before it, or -1.
func goesOn(ring orb.Ring, before, after *run) int {
	at := ring[after.from]
	for axis := range 2 {
		if (at[axis]-ring[before.from][axis])*(ring[after.to][axis]-at[axis]) > 0 {
			return axis
		}
	}
	return -1
}

// onward looks at the sides of a run and of the next, which goes on along an axis: only a few beside
// the vertex between them can come near each other, since all others are apart along that axis.
func (n *nearness) onward(p, q *run, axis int) bool {
	ring := n.rings[p.number]
	at := ring[q.from][axis]
	for i := p.to - 1; i >= p.from; i-- {
		short := math.Abs(at - ring[i+1][axis])
		if short > n.eps {
			break
		}
		for j := q.from; j < q.to && short+math.Abs(ring[j][axis]-at) <= n.eps; j++ {
			if !n.ask(p, q, i, j) {
				return false
			}
		}
	}
	return true
}

// between looks at the sides of parts of two runs, each part from one vertex to another.
func (n *nearness) between(p, q *run, p0, p1, q0, q1 int32) bool {
	r, s := n.rings[p.number], n.rings[q.number]
	if boxGap(r[p0], r[p1], s[q0], s[q1]) > n.eps*n.eps {
		return true
	}
	switch {
	case p1-p0 == 1 && q1-q0 == 1:
		return n.ask(p, q, p0, q0)
	case p1-p0 >= q1-q0:
		mid := (p0 + p1) / 2
		return n.between(p, q, p0, mid, q0, q1) && n.between(p, q, mid, p1, q0, q1)
	}
	mid := (q0 + q1) / 2
	return n.between(p, q, p0, p1, q0, mid) && n.between(p, q, p0, p1, mid, q1)
}

// ask tests side i of one run against side j of another.
func (n *nearness) ask(p, q *run, i, j int32) bool {
	n.s, n.t = sideOf(n.rings[p.number], p.number, i), sideOf(n.rings[q.number], q.number, j)
	return apartBy(&n.s, &n.t, n.eps) || n.do(&n.s, &n.t)
}

func sideOf(r orb.Ring, number, k int32) side {
	return side{r[k], r[k+1], number, k, int32(len(r) - 2)}
}

func squareBetween(a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	return dx*dx + dy*dy
}
