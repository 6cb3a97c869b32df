package shape

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// CloseBeside returns the area that polygons add to the closing of discs (see CloseDiscs): at least
// 0. Polygons must be valid, see MakeValid. The area is exact for the true circles and sides,
// except that corners and centres are placed on a raster of a micrometre. gap must be at least 0.
// Some microseconds for each disc or corner where few are within gap of each other.
//
// Discs and polygons are enlarged by half of gap. The outline then consists of arcs about discs and
// corners and of sides parallel to sides, found by the capsules of BufferLines. Parts inside the
// polygons do not belong to the outline. Shrinking moves sides and arcs back to where they came
// from, and puts a reentrant arc at every corner between them, see Discs.Closing.
func CloseBeside(discs []Disc, drawn orb.MultiPolygon, gap geo.Meters) geo.SquareMeters {
	if len(drawn) == 0 {
		return 0
	}
	if rho := float64(gap) / 2; rho > 0 {
		g := newGroup(discs, rho, 0)
		arcs := g.exposed()
		if area, ok := closeCapsules(discs, drawn, rho, g.hidden(arcs, discs, rho)); ok {
			return max(0, geo.SquareMeters(area)-g.closedAlone(arcs, discs, gap))
		}
	}
	alone := UnionDiscs(discs)
	all := closingOf(Union([]orb.MultiPolygon{alone, drawn}, 1), gap, finestOf(len(discs)+vertices(drawn)))
	return max(0, Area(all)-CloseDiscs(discs, gap))
}

// closeCapsules is the area of the closing. Where rounding keeps arcs from closing, it moves places
// and tries again; false when that does not help. It moves discs first, which changes the area
// little: for sides that are gap apart, a hair decides whether they are closed.
func closeCapsules(discs []Disc, drawn orb.MultiPolygon, rho float64, hidden []bool) (float64, bool) {
	if area, ok := closeExactly(discs, drawn, rho, hidden); ok {
		return area, true
	}
	area, ok := untilClosed(func(far float64) (float64, bool) { return closeExactly(perturbedDiscs(discs, far), drawn, rho, nil) })
	if !ok {
		area, ok = untilClosed(func(far float64) (float64, bool) {
			return closeExactly(perturbedDiscs(discs, far), perturbedArea(drawn, far), rho, nil)
		})
	}
	return area, ok
}

// closedAlone is CloseDiscs of the discs of a group with known arcs.
func (g *group) closedAlone(arcs []arc, discs []Disc, gap geo.Meters) geo.SquareMeters {
	route, ok := follow(arcs, len(g.circles))
	if !ok {
		return CloseDiscs(discs, gap)
	}
	return max(UnionDiscsArea(discs), geo.SquareMeters(g.closedArea(arcs, route.next, float64(gap)/2)))
}

// hidden says which discs, enlarged by rho, are completely covered by other discs; these are
// covered beside polygons too. Of equal discs the first counts as not covered.
func (g *group) hidden(arcs []arc, discs []Disc, rho float64) []bool {
	which := g.indices(discs, rho)
	hidden := make([]bool, len(discs))
	for i := range hidden {
		hidden[i] = true
	}
	for _, a := range arcs {
		hidden[which[a.circle]] = false
	}
	return hidden
}

// closeExactly is the area of the closing; false when rounding keeps arcs from closing. Discs known
// to be hidden cover others, but their own arcs are not looked for.
func closeExactly(discs []Disc, drawn orb.MultiPolygon, rho float64, hidden []bool) (float64, bool) {
	lines := make([]orb.LineString, 0, len(discs)+len(drawn))
	radius := make([]float64, 0, cap(lines))
	var shows []bool // by line
	for i, d := range discs {
		if !d.empty() {
			shows = append(shows, hidden == nil || !hidden[i])
			lines, radius = append(lines, orb.LineString{d.Center}), append(radius, float64(d.Radius)+rho)
		}
	}
	for _, polygon := range drawn {
		for _, ring := range polygon {
			lines, radius = append(lines, orb.LineString(ring)), append(radius, rho)
		}
	}
	s := newCapsules(lines, radius)
	s.hide(shows)
	arcs, ok := s.exposed(1)
	if !ok {
		return 0, false
	}
	route, ok := follow(arcs, s.elements())
	if !ok {
		return 0, false
	}
	arcs, next := s.outside(arcs, route.next, drawn)
	total := 0.0
	for _, a := range arcs {
		total += s.shrunkIntegral(a, rho)
	}
	return total - reentrantIntegral(s, arcs, next, rho), true
}

// hide marks as hidden the nodes of the first lines, one place each, where none of the lines shows.
func (s *capsules) hide(shows []bool) {
	s.hidden = make([]bool, len(s.nodes))
	for _, t := range s.capsules {
		if int(t.line) < len(shows) {
			s.hidden[t.a] = true
		}
	}
	for _, t := range s.capsules {
		if int(t.line) >= len(shows) || shows[t.line] {
			s.hidden[t.a], s.hidden[t.b] = false, false
		}
	}
}

// outside keeps the arcs whose loops are outside the polygons that the capsules follow. A loop
// never crosses a ring: all of it is rho away.
func (s *capsules) outside(arcs []arc, next []int32, drawn orb.MultiPolygon) ([]arc, []int32) {
	const unknown, out, in = 0, 1, 2
	where := make([]uint8, len(arcs))
	for k := range arcs {
		if where[k] != unknown {
			continue
		}
		place := uint8(out)
		if at := arcs[k].first; Contains(drawn, orb.Point{at[0] + s.origin[0], at[1] + s.origin[1]}) {
			place = in
		}
		for at := int32(k); where[at] == unknown; at = next[at] {
			where[at] = place
		}
	}
	moved := make([]int32, len(arcs))
	kept := arcs[:0:0]
	for k, a := range arcs {
		moved[k] = int32(len(kept))
		if where[k] == out {
			kept = append(kept, a)
		}
	}
	onward := make([]int32, 0, len(kept))
	for k := range arcs {
		if where[k] == out {
			onward = append(onward, moved[next[k]])
		}
	}
	return kept, onward
}

// shrunkIntegral is arcIntegral of an arc or side after it is moved back by rho.
func (s *capsules) shrunkIntegral(a arc, rho float64) float64 {
	if node := a.circle - s.circle(0); node >= 0 {
		c := s.nodes[node]
		return arcIntegral(circle{c.x, c.y, c.r - rho}, a.start, a.end)
	}
	l := s.sideLine(a.circle)
	x, y := l.x-rho*l.dy, l.y+rho*l.dx
	return (a.end - a.start) * (x*l.dy - y*l.dx) / 2
}

func (s *capsules) toward(e int32, at orb.Point) float64 {
	if node := e - s.circle(0); node >= 0 {
		return math.Atan2(s.nodes[node].y-at[1], s.nodes[node].x-at[0])
	}
	l := s.sideLine(e)
	return math.Atan2(l.dx, -l.dy)
}

func (s *capsules) under(arcs []arc, p orb.Point, rho float64) bool {
	for _, a := range arcs {
		if node := a.circle - s.circle(0); node >= 0 {
			c := s.nodes[node]
			dx, dy := p[0]-c.x, p[1]-c.y
			if math.Abs(dx) < c.r+rho && math.Abs(dy) < c.r+rho && a.underArc(c, dx, dy, rho) {
				return true
			}
			continue
		}
		l := s.sideLine(a.circle)
		dx, dy := p[0]-l.x, p[1]-l.y
		along, across := dx*l.dx+dy*l.dy, l.dx*dy-l.dy*dx
		if math.Abs(across) < rho-touchTolerance && along > a.start && along < a.end {
			return true
		}
	}
	return false
}
