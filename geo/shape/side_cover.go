package shape

import "math"

// noElement is the element of an end that is not on an outline.
const noElement = -2

// stretch is a part of an element covered by a capsule, in metres or radians along the element,
// with the elements of that capsule at its start and end.
type stretch struct {
	lo, hi  float64
	in, out int32
}

// sideLine is a side as a ray: a start, a direction and a length.
type sideLine struct{ x, y, dx, dy, length float64 }

func (s *capsules) sideLine(e int32) sideLine {
	t := s.capsules[e/2]
	at, dx, dy := s.nodes[t.a], t.ux, t.uy
	if e%2 == 1 {
		at, dx, dy = s.nodes[t.b], -dx, -dy
	}
	return sideLine{at.x + t.r*dy, at.y - t.r*dx, dx, dy, t.length}
}

// ends returns the nodes at the start and end of side e.
func (s *capsules) ends(e int32) (from, to int32) {
	t := s.capsules[e/2]
	if e%2 == 1 {
		return t.b, t.a
	}
	return t.a, t.b
}

// appendSideCover appends the part of side e that capsule j covers, if any.
func (s *capsules) appendSideCover(covers []stretch, e int32, l sideLine, j int32) []stretch {
	from, to := s.ends(e)
	t := &s.capsules[j]
	shared, inward, folded := int32(-1), true, false
	switch turn := 0.0; {
	case t.length > 0 && (t.a == to || t.b == to):
		turn, folded = s.bends(-l.dx, -l.dy, j, to)
		shared, inward = to, turn > 0
	case t.length > 0 && (t.a == from || t.b == from):
		turn, folded = s.bends(l.dx, l.dy, j, from)
		shared, inward = from, turn < 0
	}
	if !inward && !folded {
		return covers
	}
	grazed := int32(-1)
	if inward {
		grazed = shared
	}
	c, ok := s.lineInCapsule(e, l, j, grazed)
	switch shared {
	case -1:
	case to:
		c.hi = math.Inf(1)
	default:
		c.lo = math.Inf(-1)
	}
	if !ok || c.hi <= 0 || c.lo >= l.length {
		return covers
	}
	return append(covers, c)
}

// bends returns the turn, at a node, from the direction dx, dy to capsule j: positive to the left,
// 0 when j continues straight behind; folded when the two coincide.
func (s *capsules) bends(dx, dy float64, j, node int32) (turn float64, folded bool) {
	t := &s.capsules[j]
	ux, uy := t.ux, t.uy
	if t.b == node {
		ux, uy = -ux, -uy
	}
	turn = dx*uy - dy*ux
	if math.Abs(turn) > straight {
		return turn, false
	}
	return 0, dx*ux+dy*uy > 0
}

// lineInCapsule returns the part of side e's line inside capsule j. A capsule is convex, so this is
// one stretch: it spans the parts inside the two end discs and the rectangle between them. The disc
// about node grazed is left out: the line only touches it, where the capsule turns inward from e, and
// rounding would make a long stretch of that.
func (s *capsules) lineInCapsule(e int32, l sideLine, j, grazed int32) (stretch, bool) {
	t := &s.capsules[j]
	a := s.nodes[t.a]
	px, py := l.x-a.x, l.y-a.y
	along, across := px*t.ux+py*t.uy, t.ux*py-t.uy*px
	da, dc := l.dx*t.ux+l.dy*t.uy, t.ux*l.dy-t.uy*l.dx
	c := stretch{lo: math.Inf(1), hi: math.Inf(-1), in: noElement, out: noElement}
	if t.a != grazed {
		c.addDisc(along, across, da, dc, t.r, s.circle(t.a))
	}
	if t.length > 0 {
		if t.b != grazed {
			c.addDisc(along-t.length, across, da, dc, t.r, s.circle(t.b))
		}
		if math.Abs(dc)*l.length < touchTolerance {
			c.addParallel(along, across, da, t, s.coincides(e, across, da, j))
		} else {
			c.addRectangle(along, across, da, dc, t, j)
		}
	}
	return c, c.hi-c.lo > shortestArc
}

// addDisc extends c to include the part of the ray from x, y along dx, dy that is in a disc.
func (c *stretch) addDisc(x, y, dx, dy, r float64, e int32) {
	off := x*dy - y*dx
	rest := (r - off) * (r + off)
	if rest <= 0 {
		return
	}
	mid, half := -(x*dx + y*dy), math.Sqrt(rest)
	if mid-half < c.lo {
		c.lo, c.in = mid-half, e
	}
	if mid+half > c.hi {
		c.hi, c.out = mid+half, e
	}
}

// addRectangle extends c to include the part of the ray in the rectangle of capsule j. At the short
// ends of the rectangle the ray is inside a disc anyway.
func (c *stretch) addRectangle(x, y, dx, dy float64, t *capsule, j int32) {
	lo, hi := math.Inf(-1), math.Inf(1)
	if dx != 0 {
		lo, hi = -x/dx, (t.length-x)/dx
		if lo > hi {
			lo, hi = hi, lo
		}
	} else if x <= 0 || x >= t.length {
		return
	}
	// Across the capsule from right (-r) to left (r), or back.
	enter, leave := (-t.r-y)/dy, (t.r-y)/dy
	in, out := 2*j, 2*j+1
	if enter > leave {
		enter, leave, in, out = leave, enter, out, in
	}
	if max(lo, enter) >= min(hi, leave) {
		return
	}
	if enter > lo && enter < c.lo {
		c.lo, c.in = enter, in
	}
	if leave < hi && leave > c.hi {
		c.hi, c.out = leave, out
	}
}

// coincides decides whether side e, parallel to capsule j at y across it, counts as covered by j
// where it runs along a side of j. It does when the two sides face each other, so that no slit
// remains; of two that face the same way, the first is not covered.
func (s *capsules) coincides(e int32, y, dx float64, j int32) bool {
	if math.Abs(math.Abs(y)-s.capsules[j].r) > touchTolerance {
		return false
	}
	sameWay := (y < 0) == (dx > 0)
	return !sameWay || j < e/2
}

// addParallel extends c to include the part of a ray along the capsule, at y across it, that is in
// its rectangle; on says whether the sides of the rectangle count as inside.
func (c *stretch) addParallel(x, y, dx float64, t *capsule, on bool) {
	if !on && math.Abs(y) >= t.r-touchTolerance {
		return
	}
	lo, hi := -x/dx, (t.length-x)/dx
	if lo > hi {
		lo, hi = hi, lo
	}
	if lo < c.lo {
		c.lo, c.in = lo, noElement
	}
	if hi > c.hi {
		c.hi, c.out = hi, noElement
	}
}
