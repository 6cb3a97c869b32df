package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// BufferLines returns every place within radius[i] of lines[i], for any i,
// dissolved, with round caps and joins of quadrantSegments sides a quarter
// circle; by up to so many workers at once, with the same bytes for any number.
// Sides run at exactly the radius; corners of caps and joins lie on the true
// circle, so that the area falls short by at most 1 - sin(x)/x of theirs,
// x = pi / (2 quadrantSegments). Lines whose radius is not positive make
// nothing; a line of one place makes a disc.
//
// Each segment is a capsule, round at its ends; the outline is what no other capsule
// covers of their sides and ends, linked into rings, so nothing is built that
// is dissolved afterwards. Lines that rounding keeps from closing (coinciding
// parallel sides) go to the polygon library, with those they hang together with.
// About 1 microsecond a vertex a core; where thousands of lines run through one
// place some 50 to 500, and near linear still.
func BufferLines(lines []orb.LineString, radius []geo.Meters, quadrantSegments, workers int) orb.MultiPolygon {
	return bufferLines(lines, radius, rounding{quadrantSegments: max(1, quadrantSegments)}, workers)
}

// DrawLines is BufferLines with caps and joins drawn in chords of a sagitta of chord
// metres at most, so far out that each keeps its area, or by as many tangents: the
// drawing's area is that of the true buffer within 2e-6.
func DrawLines(lines []orb.LineString, radius []geo.Meters, chord geo.Meters, workers int) orb.MultiPolygon {
	return bufferLines(lines, radius, rounding{quadrantSegments: finelyDrawn, sagitta: float64(chord)}, workers)
}

// finelyDrawn is the sides of a quarter circle where chords that keep their area would
// cross others: those that end on the true circle. Our choice: a 600 000th of the
// circle's area is lost then.
const finelyDrawn = 512

// rounding says how arcs are drawn: with chords of a sagitta and their own area or,
// where that is 0, with so many corners on a quarter of the true circle.
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

// lineGroup is lines whose boxes, grown by their radii, hang together.
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
	if s != all {
		g.lines, g.radius = s.segments(s.everyCapsule())
	}
	if arcs, ok := s.exposed(workers); ok {
		for _, as := range []rounding{round, {quadrantSegments: round.quadrantSegments}} {
			if mp, ok := s.draw(arcs, as); ok && (isClear(mp, shortestArc/100) || Valid(mp) == nil) {
				return mp
			}
		}
	}
	parts := make([]orb.MultiPolygon, len(g.lines))
	each(len(parts), workers, func(i int) {
		parts[i] = libraryBuffer(orb.MultiLineString{g.lines[i]}, g.radius[i], round.quadrantSegments)
	})
	mp, _ := MakeValid(Union(parts, workers)) // the library's union may touch itself by rounding
	return mp
}

// draw makes polygons of the pieces; false when they do not close into one
// outline and holes for each set of lines that hang together.
func (s *capsules) draw(arcs []arc, round rounding) (orb.MultiPolygon, bool) {
	route, ok := follow(arcs, s.elements())
	if !ok {
		return nil, false
	}
	rings := newRings()
	for k := range arcs {
		if route.next[k] >= 0 {
			root := s.parent.Find(s.lineOf(arcs[k].circle))
			if !rings.add(int(root), s.ring(arcs, route.next, k, round)) {
				return nil, false
			}
		}
	}
	return rings.polygons(route.doubtful)
}

// ring returns the closed outline that piece k lies on, and marks its pieces as
// done in next.
func (s *capsules) ring(arcs []arc, next []int32, k int, round rounding) orb.Ring {
	var ring orb.Ring
	var bends []bend
	before, bent := int32(-1), false // the element of the piece before, and whether it ended with a bend
	for at := k; next[at] >= 0; {
		a, on := arcs[at], next[at]
		next[at] = -1
		switch {
		case round.sagitta > 0 && s.isBend(a, before, arcs[on].circle):
			ring, bends = s.appendBends(ring, bends, a, round.sagitta)
			before, at, bent = a.circle, int(on), true
			continue
		case !bent: // else the side begins at the bend
			ring = append(ring, a.first)
		}
		if i := a.circle - int32(2*len(s.capsules)); i >= 0 {
			ring = appendChords(ring, s.nodes[i], a, round)
		}
		before, at, bent = a.circle, int(on), false
	}
	if bent {
		ring = ring[1:]
		for i := range bends {
			bends[i].at--
		}
	}
	trimBends(ring, bends)
	for i, p := range ring {
		ring[i] = orb.Point{p[0] + s.origin[0], p[1] + s.origin[1]}
	}
	return append(ring, ring[0])
}

// appendChords appends the corners inside an arc about a node.
func appendChords(ring orb.Ring, c circle, a arc, round rounding) orb.Ring {
	if round.sagitta > 0 {
		// a third of a chord's turn is as good as straight
		if n := sides(c.r, round.sagitta); (a.end-a.start)*n > 2*math.Pi/3 {
			return appendBetween(ring, c, stop{a.start, c.r}, stop{a.end, c.r}, n)
		}
		return ring
	}
	n := max(1, int(math.Ceil((a.end-a.start)*float64(2*round.quadrantSegments)/math.Pi-1e-9)))
	return appendTurns(ring, c, c.r, a.start, (a.end-a.start)/float64(n), 1, n)
}
