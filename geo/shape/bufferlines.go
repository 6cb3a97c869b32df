package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// BufferLines returns every place within radius[i] of lines[i], for any i,
// dissolved, with round caps and joins of quadrantSegments sides a quarter
// circle; by up to workers goroutines, with the same bytes for any number.
// Sides run at exactly the radius; corners of caps and joins lie on the true
// circle, so that the area falls short by at most 1 - sin(x)/x of theirs,
// x = pi / (2 quadrantSegments). Lines whose radius is not positive make
// nothing; a line of one place makes a disc.
//
// Each segment is a strip with round ends; the outline is what no other strip
// covers of their sides and ends, linked into rings, so nothing is built that
// is dissolved afterwards. Lines that rounding keeps from closing (coinciding
// parallel sides) go to the polygon library, with those they hang together with.
// About 1 microsecond a vertex a core; where thousands of lines run through one
// place some 50 to 500, and near linear still.
func BufferLines(lines []orb.LineString, radius []geo.Meters, quadrantSegments, workers int) orb.MultiPolygon {
	groups := groupLines(lines, radius)
	results := make([]orb.MultiPolygon, len(groups))
	each(len(groups), workers, func(k int) {
		results[k] = bufferGroup(groups[k], max(1, quadrantSegments), workers)
	})
	return normalize(slices.Concat(results...))
}

// lineGroup is lines whose boxes, grown by their radii, hang together.
type lineGroup struct {
	lines  []orb.LineString
	radius []float64
}

func groupLines(lines []orb.LineString, radius []geo.Meters) []lineGroup {
	boxes := make([]orb.Bound, len(lines))
	skip := make([]bool, len(lines))
	for i, l := range lines {
		r := float64(radius[i])
		if skip[i] = len(l) == 0 || !(r > 0) || math.IsInf(r, 0) || !finiteLine(l); !skip[i] {
			boxes[i] = l.Bound().Pad(r)
		}
	}
	parent := hangTogether(boxes, func(i int) bool { return skip[i] })
	place := make([]int, len(lines))
	var groups []lineGroup
	for i, l := range lines {
		if skip[i] {
			continue
		}
		root := find(parent, i)
		if root == i {
			place[i] = len(groups)
			groups = append(groups, lineGroup{})
		}
		g := &groups[place[root]]
		g.lines, g.radius = append(g.lines, l), append(g.radius, float64(radius[i]))
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

func bufferGroup(g lineGroup, quadrantSegments, workers int) orb.MultiPolygon {
	s := newStrips(g.lines, g.radius)
	if arcs, ok := s.exposed(workers); ok {
		if mp, ok := s.draw(arcs, quadrantSegments); ok {
			return mp
		}
	}
	parts := make([]orb.MultiPolygon, len(g.lines))
	each(len(parts), workers, func(i int) {
		parts[i] = libraryBuffer(orb.MultiLineString{g.lines[i]}, g.radius[i], quadrantSegments)
	})
	return Union(parts, workers)
}

// draw makes polygons of the pieces; false when they do not close into one
// outline and holes for each set of lines that hang together.
func (s *strips) draw(arcs []arc, quadrantSegments int) (orb.MultiPolygon, bool) {
	route, ok := follow(arcs, s.elements())
	if !ok {
		return nil, false
	}
	rings := newRings()
	for k := range arcs {
		if route.next[k] >= 0 {
			root := s.parent.find(s.lineOf(arcs[k].circle))
			if !rings.add(int(root), s.ring(arcs, route.next, k, quadrantSegments)) {
				return nil, false
			}
		}
	}
	return rings.polygons(route.doubtful)
}

// ring returns the closed outline that piece k lies on, and marks its pieces as
// done in next.
func (s *strips) ring(arcs []arc, next []int32, k, quadrantSegments int) orb.Ring {
	var ring orb.Ring
	for at := k; next[at] >= 0; {
		a := arcs[at]
		ring = append(ring, a.first)
		if i := a.circle - int32(2*len(s.strips)); i >= 0 {
			n := max(1, int(math.Ceil((a.end-a.start)*float64(2*quadrantSegments)/math.Pi-1e-9)))
			c := s.nodes[i]
			ring = appendTurns(ring, c, c.r, a.start, (a.end-a.start)/float64(n), 1, n)
		}
		at, next[at] = int(next[at]), -1
	}
	for i, p := range ring {
		ring[i] = orb.Point{p[0] + s.origin[0], p[1] + s.origin[1]}
	}
	return append(ring, ring[0])
}
