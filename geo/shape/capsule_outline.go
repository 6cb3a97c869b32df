package shape

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"
)

// chunk is the number of capsules or nodes a worker takes at a time. Our choice: some milliseconds
// of work.
const chunk = 4096

// exposed returns the pieces of the outline, element by element, using the given number of workers;
// false when rounding has spoilt any. They are valid until the next call.
func (s *capsules) exposed(workers int) ([]arc, bool) {
	arcs, ok := s.room.arcs[:0], true
	if workers <= 1 {
		w := s.newScratch()
		if arcs, ok = s.exposedSides(arcs, 0, len(s.capsules), w); ok {
			arcs, ok = s.exposedJoints(arcs, 0, len(s.nodes), w)
		}
		s.room.arcs = arcs
		return arcs, ok
	}
	sides := (len(s.capsules) + chunk - 1) / chunk
	joints := (len(s.nodes) + chunk - 1) / chunk
	parts := make([][]arc, sides+joints)
	good := make([]bool, len(parts))
	marks := sync.Pool{New: func() any { return s.newScratch() }}
	each(len(parts), workers, func(k int) {
		w := marks.Get().(*capsuleScratch)
		defer marks.Put(w)
		if k < sides {
			parts[k], good[k] = s.exposedSides(nil, k*chunk, min((k+1)*chunk, len(s.capsules)), w)
			return
		}
		k -= sides
		parts[sides+k], good[sides+k] = s.exposedJoints(nil, k*chunk, min((k+1)*chunk, len(s.nodes)), w)
	})
	for k, p := range parts {
		arcs, ok = append(arcs, p...), ok && good[k]
	}
	s.room.arcs = arcs
	return arcs, ok
}

func (s *capsules) newScratch() *capsuleScratch {
	return &capsuleScratch{mark: make([]int32, len(s.capsules))}
}

// capsuleScratch is the memory a worker reuses from element to element.
type capsuleScratch struct {
	mark    []int32
	round   int32
	found   []int32
	covers  []stretch
	covered intervals // where the quadtree is used
}

func (w *capsuleScratch) near(g *capsuleGrid, b box) []int32 {
	w.round++
	w.found = g.near(b, w, w.found[:0])
	w.covers = w.covers[:0]
	return w.found
}

// exposedSides appends the pieces of the sides of some capsules.
func (s *capsules) exposedSides(arcs []arc, lo, hi int, w *capsuleScratch) ([]arc, bool) {
	arcs = slices.Grow(arcs, 2*(hi-lo))
	for i := int32(lo); i < int32(hi); i++ {
		t := &s.capsules[i]
		if t.length == 0 {
			continue
		}
		a, b := s.nodes[t.a], s.nodes[t.b]
		around := w.near(&s.grid, box{min(a.x, b.x) - t.r, min(a.y, b.y) - t.r, max(a.x, b.x) + t.r, max(a.y, b.y) + t.r})
		for way := range int32(2) {
			e := s.side(i, way)
			l := s.sideLine(e)
			w.covers = w.covers[:0]
			if len(around) > s.grid.most {
				s.coverSide(w, e, l)
			} else {
				for _, j := range around {
					if j == i || !s.mayReach(l.x, l.y, l.x+l.length*l.dx, l.y+l.length*l.dy, j) {
						continue
					}
					before := len(w.covers)
					w.covers = s.appendSideCover(w.covers, e, l, j)
					if len(w.covers) > before {
						s.parent.Union(t.line, s.capsules[j].line)
					}
				}
			}
			n := t.natural[way]
			arcs = appendOpen(arcs, arc{circle: e, from: n.from, to: n.to, end: l.length}, w.covers, 1, func(v float64) orb.Point {
				return orb.Point{l.x + v*l.dx, l.y + v*l.dy}
			})
		}
	}
	return arcs, true
}

// mayReach is false when the segment from x0, y0 to x1, y1 is certainly farther from capsule j than
// the capsule's width.
func (s *capsules) mayReach(x0, y0, x1, y1 float64, j int32) bool {
	t := &s.capsules[j]
	a, b := s.nodes[t.a], s.nodes[t.b]
	r := t.r + touchTolerance
	if min(x0, x1) > max(a.x, b.x)+r || max(x0, x1) < min(a.x, b.x)-r ||
		min(y0, y1) > max(a.y, b.y)+r || max(y0, y1) < min(a.y, b.y)-r {
		return false
	}
	across0 := t.ux*(y0-a.y) - t.uy*(x0-a.x)
	across1 := t.ux*(y1-a.y) - t.uy*(x1-a.x)
	return min(across0, across1) < r && max(across0, across1) > -r
}

// exposedJoints appends the pieces of the joints of some nodes.
func (s *capsules) exposedJoints(arcs []arc, lo, hi int, w *capsuleScratch) ([]arc, bool) {
	arcs = slices.Grow(arcs, hi-lo)
	for i := int32(lo); i < int32(hi); i++ {
		q, n := s.joints[i], s.nodes[i]
		if q.end <= q.start || s.hidden != nil && s.hidden[i] {
			continue
		}
		at := func(v float64) orb.Point { return n.at(stop{q.start + v, n.r}) }
		mid, half := n.around(q.start, q.end)
		around := w.near(&s.grid, box{mid[0] - half, mid[1] - half, mid[0] + half, mid[1] + half})
		if len(around) > s.grid.most {
			if !s.coverJoint(w, i) {
				return nil, false
			}
			around = nil
		}
		for _, j := range around {
			if !s.mayTouch(mid, half, j) {
				continue
			}
			before := len(w.covers)
			var ok bool
			if w.covers, ok = s.appendJointCover(w.covers, i, j); !ok {
				return nil, false
			}
			if len(w.covers) > before {
				s.parent.Union(s.lineOf(s.circle(i)), s.capsules[j].line)
			}
		}
		arcs = appendOpen(arcs, arc{circle: s.circle(i), from: q.from, to: q.to, start: q.start, end: q.end}, w.covers, n.r, at)
	}
	return arcs, true
}

// around returns a disc that contains the arc from one angle to another.
func (c circle) around(start, end float64) (mid orb.Point, half float64) {
	mid, half = c.at(stop{(start + end) / 2, c.r}), 2*c.r*math.Sin((end-start)/4)
	if half > c.r {
		mid, half = orb.Point{c.x, c.y}, c.r
	}
	return mid, half
}

// coverSide puts into w.covers the parts of side e that the quadtree finds covered.
func (s *capsules) coverSide(w *capsuleScratch, e int32, l sideLine) {
	w.covered = w.covered[:0]
	s.thick().cover(w, element{
		scale: 1,
		around: func(from, to float64) (orb.Point, float64) {
			v := (from + to) / 2
			return orb.Point{l.x + v*l.dx, l.y + v*l.dy}, (to - from) / 2
		},
		under: func(j int32) bool {
			if j != e/2 {
				w.put(s, s.capsules[e/2].line, j, s.appendSideCover(w.covers[:0], e, l, j))
			}
			return true
		},
	}, 0, l.length)
	w.covers = append(w.covers[:0], w.covered...)
}

// coverJoint puts into w.covers the parts of a node's joint that the quadtree finds covered; false
// when rounding makes them contradict each other.
func (s *capsules) coverJoint(w *capsuleScratch, node int32) bool {
	w.covered = w.covered[:0]
	q, n := s.joints[node], s.nodes[node]
	sound := s.thick().cover(w, element{
		scale:  n.r,
		around: func(from, to float64) (orb.Point, float64) { return n.around(q.start+from, q.start+to) },
		under: func(j int32) bool {
			covers, ok := s.appendJointCover(w.covers[:0], node, j)
			w.put(s, s.lineOf(s.circle(node)), j, covers)
			return ok
		},
	}, 0, q.end-q.start)
	w.covers = append(w.covers[:0], w.covered...)
	return sound
}

// put adds the parts of an element that capsule j covers to the intervals.
func (w *capsuleScratch) put(s *capsules, line, j int32, covers []stretch) {
	for _, c := range covers {
		w.covered = w.covered.add(c)
	}
	if len(covers) > 0 {
		s.parent.Union(line, s.capsules[j].line)
	}
	w.covers = covers[:0]
}

// mayTouch is false when the disc of radius half about mid is certainly farther from the segment of
// capsule j than the capsule's width.
func (s *capsules) mayTouch(mid orb.Point, half float64, j int32) bool {
	t := &s.capsules[j]
	a := s.nodes[t.a]
	x, y := mid[0]-a.x, mid[1]-a.y
	v := min(max(x*t.ux+y*t.uy, 0), t.length)
	x, y = x-v*t.ux, y-v*t.uy
	reach := half + t.r
	return x*x+y*y <= reach*reach
}

// appendOpen appends the parts that covers leave open. covers are measured from the start of whole;
// scale turns their unit into metres.
func appendOpen(arcs []arc, whole arc, covers []stretch, scale float64, at func(float64) orb.Point) []arc {
	if len(covers) > 1 {
		slices.SortFunc(covers, func(a, b stretch) int { return cmp.Compare(a.lo, b.lo) })
	}
	reach, from, length := 0.0, whole.from, whole.end-whole.start
	add := func(end float64, to int32) {
		if (end-reach)*scale < shortestArc {
			return
		}
		piece := whole
		piece.start, piece.end = whole.start+reach, whole.start+end
		piece.from, piece.to, piece.first, piece.last = from, to, at(reach), at(end)
		arcs = append(arcs, piece)
	}
	for _, c := range covers {
		if c.lo >= length {
			break
		}
		add(c.lo, c.in)
		if c.hi > reach {
			reach, from = c.hi, c.out
		}
	}
	if reach < length {
		add(length, whole.to)
	}
	return arcs
}

// lineOf returns the number of a line that element e belongs to.
func (s *capsules) lineOf(e int32) int32 {
	if e < int32(2*len(s.capsules)) {
		return s.capsules[e/2].line
	}
	return s.nodeLine[e-int32(2*len(s.capsules))]
}
