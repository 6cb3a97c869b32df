package linear

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// Place is a place on a line.
type Place struct {
	Line     int32
	Segment  int32      // between the vertices Segment and Segment+1
	Fraction float64    // of the segment, 0 to 1
	Distance geo.Meters // geodesic, from the query point
	Point    orb.Point  // degrees
}

// tie is the distance, metres, within which two places count as equally near. Our choice: far below
// a coordinate's rounding, far above that of the arithmetic.
const tie = 1e-6

// Nearest returns the place on any line nearest to p, in degrees, and false when there are no
// lines. Of places equally near to 1e-6 m it takes the one on the first line, then the earliest
// along it. The choice between places is exact to the square of the distance over the earth's
// radius: a few parts in 1e8 at 1 km, 1e-6 at 10 km, 1e-4 at 1000 km, 1e-3 at the other end of the
// globe. Some microseconds, wherever p is.
func (ix *Index) Nearest(p orb.Point) (Place, bool) {
	s := nearestSearch{view: newView(p)}
	s.place.Line = -1
	if s.around(ix) {
		s.place.refine(p, ix.lines.At(int(s.place.Line)))
		return s.place, true
	}
	at := ix.space().nearest(p, ix.lines)
	if at.Line < 0 {
		return Place{}, false
	}
	at.locate(p, ix.lines.At(int(at.Line)))
	return at, true
}

// around searches growing squares around the point. It reports whether it found a place nearer than
// the square's half width.
func (s *nearestSearch) around(ix *Index) bool {
	// most query points are near a line; a square costs about 1 us. Larger squares than the last
	// contain more than a search of space looks at. Our choice, measured
	const first, growth, last = 200, 4, 3200
	best := math.Inf(1)
	for half := geo.Meters(first); half <= last; half *= growth {
		low, high := square(orb.Point{s.lon, s.lat}, half)
		ix.eachWithin(low, high, func(r Run) { best = s.look(ix.lines.At(int(r.Line)), r, best) })
		// the plane of the view is not exact; anything nearer than this is in the square
		if best <= float64(half)*0.999 {
			return true
		}
	}
	return false
}

// view is the plane around a point: x east, y north, metres. The scale of longitude for a position
// is taken half way between it and the point.
type view struct {
	lon, lat       float64
	perLon, perLat float64
	narrowing      float64 // decrease of perLon per degree of latitude
}

// newView returns the plane around a point.
func newView(p orb.Point) view {
	v := view{lon: earth.Wrap(p[0]), lat: p[1]}
	v.perLon, v.perLat = earth.LocalScale(p[1])
	// half of d(N cos lat)/d lat = -M sin lat (Snyder 1987, chapter 3)
	v.narrowing = v.perLat * math.Sin(p[1]*math.Pi/180) / 2 * math.Pi / 180
	return v
}

// to returns the plane position of a vertex.
func (v *view) to(p orb.Point) (x, y float64) {
	dLat := p[1] - v.lat
	return shorter(p[0]-v.lon) * (v.perLon - v.narrowing*dLat), dLat * v.perLat
}

// nearestSearch is a search for the place nearest to a point.
type nearestSearch struct {
	view
	place Place
}

// look compares the segments of a run with the best place so far and returns the new best distance.
func (s *nearestSearch) look(path orb.LineString, r Run, best float64) float64 {
	ax, ay := s.to(path[r.First])
	if r.First == r.Last {
		return s.take(best, math.Hypot(ax, ay), Place{Line: r.Line, Segment: r.First})
	}
	for i := r.First; i < r.Last; i++ {
		bx, by := s.to(path[i+1])
		d2, t := fromOrigin(ax, ay, bx, by)
		if limit := best + tie; d2 <= limit*limit {
			best = s.take(best, math.Sqrt(d2), Place{Line: r.Line, Segment: i, Fraction: t})
		}
		ax, ay = bx, by
	}
	return best
}

// take keeps a place that is nearer than the best, or as near and earlier.
func (s *nearestSearch) take(best, d float64, at Place) float64 {
	if d < best-tie || d <= best+tie && (s.place.Line < 0 || before(at, s.place)) {
		s.place = at
		return min(best, d)
	}
	return best
}

// before reports whether a place comes before another by line, then along it.
func before(a, b Place) bool {
	if a.Line != b.Line {
		return a.Line < b.Line
	}
	if a.Segment != b.Segment {
		return a.Segment < b.Segment
	}
	return a.Fraction < b.Fraction
}

// refine finds the place on its segment again, with the scale half way between p and the place, and
// fills in its position and distance.
func (at *Place) refine(p orb.Point, path orb.LineString) {
	at.locate(p, path)
	i := at.Segment
	if int(i)+1 >= len(path) {
		return
	}
	a, b := path[i], path[i+1]
	// each round reduces the error by distance over radius; two reach rounding
	for range 2 {
		perLon, perLat := earth.LocalScale((p[1] + at.Point[1]) / 2)
		ax, ay := shorter(a[0]-p[0])*perLon, (a[1]-p[1])*perLat
		_, t := fromOrigin(ax, ay, ax+shorter(b[0]-a[0])*perLon, (b[1]-p[1])*perLat)
		at.Fraction = t
		at.Point = Interpolate(a, b, t)
	}
	at.Distance = earth.Distance(p, at.Point)
}

// locate fills in position and distance of a place whose segment and fraction are
// known.
func (at *Place) locate(p orb.Point, path orb.LineString) {
	at.Point = path[at.Segment]
	if int(at.Segment)+1 < len(path) {
		at.Point = Interpolate(at.Point, path[at.Segment+1], at.Fraction)
	}
	at.Distance = earth.Distance(p, at.Point)
}

// nearest returns the place on the lines nearest to p by straight distance through the earth. That
// gives the same order as distance over the ground to 1 part in 1e4 at 1000 km, and 1 in 1e3 at the
// other end of the globe. Point and Distance are left blank.
func (s *space) nearest(p orb.Point, lines Lines) (at Place) {
	search := nearestSearch{place: Place{Line: -1}}
	if len(s.boxes) == 0 {
		return search.place
	}
	from, best, inner := earth.ECEF(p), math.Inf(1), len(s.runs)-1
	// nearer halves first; a tree of 2^31 runs is 31 deep
	open := append(make([]int, 0, 64), 0)
	for len(open) > 0 {
		i := open[len(open)-1]
		open = open[:len(open)-1]
		if limit := best + tie; s.boxes[i].off2(from) > limit*limit {
			continue
		}
		if i >= inner {
			best = search.lookFrom(from, lines, s.runs[i-inner], best)
			continue
		}
		near, far := 2*i+1, 2*i+2
		if s.boxes[far].off2(from) < s.boxes[near].off2(from) {
			near, far = far, near
		}
		open = append(open, far, near)
	}
	return search.place
}

// lookFrom compares the segments of a run with the best place so far, by straight distance.
func (s *nearestSearch) lookFrom(from [3]float64, lines Lines, r Run, best float64) float64 {
	path := lines.At(int(r.Line))
	a := earth.ECEF(path[r.First])
	if r.First == r.Last {
		return s.take(best, math.Sqrt(squareOf(minus(a, from))), Place{Line: r.Line, Segment: r.First})
	}
	for i := r.First; i < r.Last; i++ {
		b := earth.ECEF(path[i+1])
		along, back := minus(b, a), minus(from, a)
		t := 0.0
		if l2 := squareOf(along); l2 > 0 {
			t = min(max((along[0]*back[0]+along[1]*back[1]+along[2]*back[2])/l2, 0), 1)
		}
		for k := range along {
			back[k] -= t * along[k]
		}
		best = s.take(best, math.Sqrt(squareOf(back)), Place{Line: r.Line, Segment: i, Fraction: t})
		a = b
	}
	return best
}

func minus(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func squareOf(a [3]float64) float64 { return a[0]*a[0] + a[1]*a[1] + a[2]*a[2] }

// off2 returns the square of the distance of a place from the box.
func (b *solid) off2(p [3]float64) float64 {
	sum := 0.0
	for k, v := range p {
		d := max(b.min[k]-v, v-b.max[k], 0)
		sum += d * d
	}
	return sum
}
