package format

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Add appends a position.
func (s *Shape) Add(p orb.Point) {
	if len(s.Points) == cap(s.Points) {
		s.Room(1)
	}
	s.Points = append(s.Points, p)
}

// Room reserves memory for n more positions and at least doubles it. Unlike append, it does not touch
// the memory that is not used yet, so the system need not provide it.
func (s *Shape) Room(n int) {
	if len(s.Points)+n <= cap(s.Points) {
		return
	}
	points := make([]orb.Point, len(s.Points), max(len(s.Points)+n, 2*cap(s.Points)))
	copy(points, s.Points)
	s.Points = points
}

// EndPart ends a line, a ring or a point of a multipoint.
func (s *Shape) EndPart() { s.Parts = append(s.Parts, len(s.Points)) }

// EndPolygon ends a polygon: its rings are those added since the last call.
func (s *Shape) EndPolygon() { s.Polygons = append(s.Polygons, len(s.Parts)) }

// Is sets the shape's kind.
func (s *Shape) Is(kind ShapeKind, name string) { s.Kind, s.Name = kind, name }

// one gives the single kind for each multi kind.
var one = map[ShapeKind]ShapeKind{MultiPointShape: PointShape, MultiLineShape: LineShape, MultiPolygonShape: PolygonShape}

// Join makes the shape a multi geometry when it already had parts before those of kind k. If the kinds
// do not match, the shape becomes one of no supported kind.
func (s *Shape) Join(k ShapeKind, name string) {
	switch {
	case s.Kind == NoShape:
		s.Is(k, name)
	case s.Kind == k || one[s.Kind] == k:
		for many, single := range one { // at most one matches
			if single == k {
				s.Is(many, "Multi"+name)
			}
		}
	default:
		s.Is(OtherShape, "collection of different geometries")
	}
}

// SortRings makes polygons of rings in any order, as in Shapefiles: a clockwise ring is an outer ring,
// and each other ring is a hole in the smallest outer ring around it (ESRI Shapefile Technical
// Description, 1998, page 8). Rings with no outer ring around them become outer rings themselves, so
// that a file with reversed rings can still be read.
func (s *Shape) SortRings() {
	rings := make([]ringPlace, len(s.Parts))
	for i := range s.Parts {
		rings[i] = ringPlace{points: s.Part(i), area: turning(s.Part(i)), outside: -1}
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
	points := make([]orb.Point, 0, len(s.Points))
	s.Parts, s.Polygons = s.Parts[:0], s.Polygons[:0]
	for at, i := range order {
		if at > 0 && rings[i].outside < 0 {
			s.EndPolygon()
		}
		points = append(points, rings[i].points...)
		s.Parts = append(s.Parts, len(points))
	}
	s.EndPolygon()
	s.Points = append(s.Points[:0], points...)
}

// ringPlace is a ring that is being assigned to a polygon.
type ringPlace struct {
	points  []orb.Point
	area    float64 // counter-clockwise positive
	outside int     // the outer ring it is a hole of; -1 for none
}

// turning returns a ring's signed area in the squared unit of its coordinates, counter-clockwise
// positive.
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

// surrounds says whether the inner ring lies inside the outer one. The rings may touch, as a lake
// touches the shore, and a vertex on the boundary may be counted as outside. So the midpoints of three
// edges are tested, and two must agree.
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

// holds says whether p is inside a ring, by counting the crossings of a ray.
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
