package intake

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// add appends a position.
func (s *shape) add(p orb.Point) {
	if len(s.points) == cap(s.points) {
		s.room(1)
	}
	s.points = append(s.points, p)
}

// room makes room for n more positions, and for as many again as there are. Unlike
// append it leaves what is not used yet untouched, which the system then need not
// hand out.
func (s *shape) room(n int) {
	if len(s.points)+n <= cap(s.points) {
		return
	}
	points := make([]orb.Point, len(s.points), max(len(s.points)+n, 2*cap(s.points)))
	copy(points, s.points)
	s.points = points
}

// endPart ends a line, a ring or a point of a multipoint.
func (s *shape) endPart() { s.parts = append(s.parts, len(s.points)) }

// endPolygon ends a polygon with the rings since the last.
func (s *shape) endPolygon() { s.polygons = append(s.polygons, len(s.parts)) }

// is gives the shape its kind.
func (s *shape) is(kind shapeKind, name string) { s.kind, s.name = kind, name }

// one is the kind of geometry that a kind is many of, and many the other way.
var one = map[shapeKind]shapeKind{multiPointShape: pointShape, multiLineShape: lineShape, multiPolygonShape: polygonShape}

// join makes a shape that has gathered parts of kind k one of many, when it
// held some before; kinds that do not go together make it no geometry of ours.
func (s *shape) join(k shapeKind, name string) {
	switch {
	case s.kind == noShape:
		s.is(k, name)
	case s.kind == k || one[s.kind] == k:
		for many, single := range one { // one at most
			if single == k {
				s.is(many, "Multi"+name)
			}
		}
	default:
		s.is(otherShape, "collection of different geometries")
	}
}

// sortRings makes polygons of rings that come in any order, as Shapefile has
// them: a clockwise ring is a polygon's outside, and each other ring a hole in
// the smallest outside that holds it (ESRI Shapefile Technical Description, 1998,
// page 8). Rings without an outside are outsides of their own, so that a file
// written the wrong way round is still read.
func (s *shape) sortRings() {
	rings := make([]ringPlace, len(s.parts))
	for i := range s.parts {
		rings[i] = ringPlace{points: s.part(i), area: turning(s.part(i)), outside: -1}
	}
	for i := range rings {
		if rings[i].area < 0 {
			continue
		}
		for k := range rings {
			o := &rings[k]
			if o.area < 0 && surrounds(o.points, rings[i].points) &&
				(rings[i].outside < 0 || -o.area < -rings[rings[i].outside].area) {
				rings[i].outside = k
			}
		}
	}
	order := make([]int, len(rings))
	for i := range order {
		order[i] = i
	}
	key := func(i int) (int, int) {
		if rings[i].outside < 0 {
			return i, 0
		}
		return rings[i].outside, 1
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, i := key(a)
		y, k := key(b)
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(i, k))
	})
	points := make([]orb.Point, 0, len(s.points))
	s.parts, s.polygons = s.parts[:0], s.polygons[:0]
	for at, i := range order {
		if at > 0 && rings[i].outside < 0 {
			s.endPolygon()
		}
		points = append(points, rings[i].points...)
		s.parts = append(s.parts, len(points))
	}
	s.endPolygon()
	s.points = append(s.points[:0], points...)
}

// ringPlace is a ring on its way into a polygon.
type ringPlace struct {
	points  []orb.Point
	area    float64 // counter-clockwise positive
	outside int     // the ring it is a hole of; -1 for none
}

// turning returns a ring's signed area, counter-clockwise positive, in its own
// units squared.
func turning(ring []orb.Point) float64 {
	var sum float64
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		sum += (a[0]-ring[0][0])*(b[1]-ring[0][1]) - (b[0]-ring[0][0])*(a[1]-ring[0][1])
	}
	if math.IsNaN(sum) {
		return 0
	}
	return sum / 2
}

// surrounds says whether the inner ring lies inside the outer one. The two may
// touch, as a lake at the shore does; so the middles of three edges are asked and
// two decide: a vertex that touches is as often told to be outside.
func surrounds(outer, inner []orb.Point) bool {
	inside, asked := 0, 0
	for third := range 3 {
		i := third * (len(inner) - 1) / 3
		if i+1 >= len(inner) {
			return false
		}
		a, b := inner[i], inner[i+1]
		asked++
		if holds(outer, orb.Point{a[0] + (b[0]-a[0])/2, a[1] + (b[1]-a[1])/2}) {
			inside++
		}
		if inside == 2 || asked-inside == 2 {
			break
		}
	}
	return inside == 2
}

// holds says whether p is inside a ring, by crossings of a ray.
func holds(ring []orb.Point, p orb.Point) bool {
	inside := false
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1]) {
			inside = !inside
		}
	}
	return inside
}
