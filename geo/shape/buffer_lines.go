package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
)

// BufferLines returns all places within radius[i] of lines[i], for any i, dissolved, with round
// caps and joins of quadrantSegments sides a quarter circle. It uses the given number of workers,
// with the same bytes for any number. Sides run at exactly the radius; corners of caps and joins
// lie on the true circle, so the area of these is too small by a share of at most 1 - sin(x)/x, x =
// pi / (2 quadrantSegments). Lines whose radius is not positive are ignored; a line of one place
// makes a disc.
//
// Each segment is a capsule, round at both ends. The outline consists of the parts of sides and
// ends that no other capsule covers, linked into rings, so nothing is built only to be dissolved
// again. Where rounding keeps lines from closing (coinciding parallel sides), they go to the
// polygon library together with the lines they touch. About 1 microsecond a vertex on one core; 50
// to 500 where thousands of lines run through one place, and still nearly linear.
func BufferLines(lines []orb.LineString, radius []geo.Meters, quadrantSegments, workers int) orb.MultiPolygon {
	return bufferLines(lines, radius, rounding{quadrantSegments: max(1, quadrantSegments)}, workers)
}

// DrawLines is BufferLines with caps and joins drawn either by chords with a sagitta of at most
// chord metres or by as many tangents, placed so that each keeps its area. The drawing's area is
// that of the true buffer within 2e-6.
func DrawLines(lines []orb.LineString, radius []geo.Meters, chord geo.Meters, workers int) orb.MultiPolygon {
	return bufferLines(lines, radius, rounding{quadrantSegments: finelyDrawn, sagitta: float64(chord)}, workers)
}

// finelyDrawn is the number of sides of a quarter circle used where chords that keep their area
// would cross others. These end on the true circle. Our choice: it loses a 600 000th of the
// circle's area.
const finelyDrawn = 512

// rounding says how arcs are drawn: by chords with a given sagitta that keep the area, or, where
// sagitta is 0, with a number of corners on a quarter of the true circle.
type rounding struct {
	quadrantSegments int
	sagitta          float64
}

func bufferLines(lines []orb.LineString, radius []geo.Meters, round rounding, workers int) orb.MultiPolygon {
	groups := groupLines(lines, radius)
	results := make([]orb.MultiPolygon, len(groups))
	each(len(groups), workers, func(k int) {
		results[k] = bufferGroup(groups[k], round, workers)
	})
	return normalize(slices.Concat(results...))
}

// lineGroup is a group of lines connected by touching boxes, each box grown by its radius.
type lineGroup struct {
	lines  []orb.LineString
	radius []float64
}

func groupLines(lines []orb.LineString, radius []geo.Meters) []lineGroup {
	var all lineGroup
	var boxes []orb.Bound
	for i, l := range lines {
		if r := float64(radius[i]); len(l) > 0 && r > 0 && !math.IsInf(r, 0) && finiteLine(l) {
			all.lines, all.radius = append(all.lines, l), append(all.radius, r)
			boxes = append(boxes, l.Bound().Pad(r))
		}
	}
	classes := Together(boxes)
	groups := make([]lineGroup, len(classes))
	for k, class := range classes {
		g := &groups[k]
		for _, i := range class {
			g.lines, g.radius = append(g.lines, all.lines[i]), append(g.radius, all.radius[i])
		}
	}
	return groups
}

func finiteLine(l orb.LineString) bool {
	for _, p := range l {
		if !finite(p) {
			return false
		}
	}
	return true
}

func bufferGroup(g lineGroup, round rounding, workers int) orb.MultiPolygon {
	all := newCapsules(g.lines, g.radius)
	s := all.thinned(workers)
	defer s.done()
	if s != all {
		g.lines, g.radius = s.segments(s.everyCapsule())
	}
	mp, ok := untilClosed(func(far float64) (orb.MultiPolygon, bool) {
		switch {
		case far == 0:
			return s.outlined(round, workers)
		case len(g.lines) <= fewBuffered:
			return nil, false
		}
		moved := newCapsules(g.perturbed(far), g.radius)
		defer moved.done()
		return moved.outlined(round, workers)
	})
	if ok {
		return mp
	}
	parts := make([]orb.MultiPolygon, len(g.lines))
	each(len(parts), workers, func(i int) {
		parts[i] = libraryBuffer(orb.MultiLineString{g.lines[i]}, g.radius[i], round.quadrantSegments)
	})
	mp, _ = MakeValid(Union(parts, workers)) // the library's union may touch itself through rounding
	return mp
}

// fewBuffered is the largest number of lines that go to the polygon library where their outline does not
// close; of more, places are moved a little first. Our choice: the library takes seconds for so many
// and hours for thousands.
const fewBuffered = 64

// perturbed returns the lines with each place moved by up to far.
func (g lineGroup) perturbed(far float64) []orb.LineString {
	moved := make([]orb.LineString, len(g.lines))
	for i, line := range g.lines {
		moved[i] = make(orb.LineString, len(line))
		for k, p := range line {
			moved[i][k] = perturbed(p, far)
		}
	}
	return moved
}

// outlined follows the outline; false where it does not close. Where its drawing crosses itself, the arcs
// there, or else all, get their corners on the true circle.
func (s *capsules) outlined(round rounding, workers int) (orb.MultiPolygon, bool) {
	arcs, ok := s.exposed(workers)
	if !ok {
		return nil, false
	}
	var finely []bool
	for range mostRedrawn {
		mp, ok := s.draw(arcs, round, finely)
		if !ok {
			break
		}
		if validUnlessNear(mp, drawnClear) {
			return mp, true
		}
		if finely = s.crossed(arcs, mp, finely); finely == nil {
			break
		}
	}
	mp, ok := s.draw(arcs, rounding{quadrantSegments: round.quadrantSegments}, nil)
	return mp, ok && validUnlessNear(mp, drawnClear)
}

const (
	// drawnClear is the distance above which sides of a drawn outline cannot cross.
	drawnClear = shortestArc / 100
	// mostRedrawn is how often an outline is drawn, each time with more of its arcs on the true circle,
	// before all are. Our choice.
	mostRedrawn = 4
)

// crossed adds to finely the arcs of nodes that lie beside sides of their drawing that touch or cross; nil
// if there are no others.
func (s *capsules) crossed(arcs []arc, mp orb.MultiPolygon, finely []bool) []bool {
	var near rtree.RTreeGN[float64, struct{}]
	eachNear(mp, drawnClear, func(p, q *side) bool {
		for _, t := range [2]*side{p, q} {
			box := orb.MultiPoint{t.a, t.b}.Bound().Pad(drawnClear)
			near.Insert(box.Min, box.Max, struct{}{})
		}
		return true
	})
	out := make([]bool, len(arcs))
	copy(out, finely)
	more := false
	for k, a := range arcs {
		node := a.circle - s.circle(0)
		if node < 0 || out[k] {
			continue
		}
		mid, half := s.nodes[node].around(a.start, a.end)
		near.Search([2]float64{mid[0] + s.origin[0] - half, mid[1] + s.origin[1] - half}, [2]float64{mid[0] + s.origin[0] + half, mid[1] + s.origin[1] + half},
			func(_, _ [2]float64, _ struct{}) bool {
				out[k], more = true, true
				return false
			})
	}
	if !more {
		return nil
	}
	return out
}

// draw makes polygons of the pieces, those in finely with corners on the true circle; false when they do
// not close into one outline, with its holes, for each connected set of lines.
func (s *capsules) draw(arcs []arc, round rounding, finely []bool) (orb.MultiPolygon, bool) {
	route, ok := follow(arcs, s.elements())
	if !ok {
		return nil, false
	}
	roundAs := func(k int) rounding {
		if finely != nil && finely[k] {
			return rounding{quadrantSegments: round.quadrantSegments}
		}
		return round
	}
	rings := newRings()
	for k := range arcs {
		if route.next[k] >= 0 {
			root := s.parent.Find(s.lineOf(arcs[k].circle))
			if !rings.add(int(root), s.ring(arcs, route.next, k, roundAs)) {
				return nil, false
			}
		}
	}
	return rings.polygons(route.doubtful)
}

// ring returns the closed outline that contains piece k, and marks its pieces as done in next.
func (s *capsules) ring(arcs []arc, next []int32, k int, roundAs func(k int) rounding) orb.Ring {
	ring, bends := s.room.ring[:0], s.room.bends[:0]
	before, bent := int32(-1), false // the element of the previous piece, and whether that ended with a bend
	for at := k; next[at] >= 0; {
		a, on, round := arcs[at], next[at], roundAs(at)
		next[at] = -1
		switch {
		case round.sagitta > 0 && s.isBend(a, before, arcs[on].circle):
			ring, bends = s.appendBends(ring, bends, a, round.sagitta)
			before, at, bent = a.circle, int(on), true
			continue
		case !bent: // otherwise the side begins at the bend
			ring = append(ring, a.first)
		}
		if i := a.circle - int32(2*len(s.capsules)); i >= 0 {
			ring = appendChords(ring, s.nodes[i], a, round)
		}
		before, at, bent = a.circle, int(on), false
	}
	s.room.ring, s.room.bends = ring, bends
	if bent {
		ring = ring[1:]
		for i := range bends {
			bends[i].at--
		}
	}
	trimBends(ring, bends)
	return placed(ring, s.origin)
}

// appendChords appends the corners inside an arc around a node.
func appendChords(ring orb.Ring, c circle, a arc, round rounding) orb.Ring {
	if round.sagitta > 0 {
		// less than a third of a chord's turn is practically straight
		if n := sides(c.r, round.sagitta); (a.end-a.start)*n > 2*math.Pi/3 {
			return appendBetween(ring, c, stop{a.start, c.r}, stop{a.end, c.r}, n)
		}
		return ring
	}
	n := max(1, int(math.Ceil((a.end-a.start)*float64(2*round.quadrantSegments)/math.Pi-1e-9)))
	return appendTurns(ring, c, c.r, a.start, (a.end-a.start)/float64(n), 1, n)
}
