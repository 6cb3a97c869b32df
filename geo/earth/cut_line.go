package earth

import (
	"math"

	"github.com/paulmach/orb"
)

// CutLine returns a line in degrees, whose longitudes may run past +-180, as pieces within [-180,
// 180], cut exactly on the antimeridian. The latitude of a cut is interpolated along the edge.
// Pieces keep the order and direction of the line. RFC 7946, section 3.1.9. Linear.
func CutLine(ls orb.LineString) orb.MultiLineString {
	if len(ls) == 0 {
		return nil
	}
	if west, east := lonRange(ls); west >= -180 && east <= 180 {
		return orb.MultiLineString{ls}
	}
	var out orb.MultiLineString
	strip := stripOf(ls, 0)
	piece := orb.LineString{shifted(ls[0], strip)}
	flush := func() {
		if len(piece) > 1 {
			out = append(out, piece)
		}
	}
	for i := 1; i < len(ls); i++ {
		a, b := ls[i-1], ls[i]
		for {
			step, edge := 1.0, 180+360*strip
			if b[0] < edge-360 {
				step, edge = -1, edge-360
			} else if b[0] <= edge {
				break
			}
			cut := orb.Point{edge, latitudeAt(a, b, edge)}
			piece = appendNew(piece, shifted(cut, strip))
			flush()
			strip += step
			piece = orb.LineString{shifted(cut, strip)}
		}
		piece = appendNew(piece, shifted(b, strip))
	}
	flush()
	return out
}

// stripOf returns the number of the turn that contains vertex i, 0 for [-180, 180]. A vertex on a
// boundary belongs to the turn that the line enters next.
func stripOf(ls orb.LineString, i int) float64 {
	strip := math.Floor((ls[i][0] + 180) / 360)
	if ls[i][0] != 360*strip-180 {
		return strip
	}
	for _, p := range ls[i+1:] {
		if p[0] < ls[i][0] {
			return strip - 1
		} else if p[0] > ls[i][0] {
			return strip
		}
	}
	return strip
}

// lonRange returns the smallest and largest longitude.
func lonRange(points []orb.Point) (west, east float64) {
	west, east = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		west, east = min(west, p[0]), max(east, p[0])
	}
	return west, east
}

// latitudeAt returns the latitude at which the straight edge a-b meets a
// longitude between the two.
func latitudeAt(a, b orb.Point, lon float64) float64 {
	t := (lon - a[0]) / (b[0] - a[0])
	return a[1] + t*(b[1]-a[1])
}

// shifted returns p moved west by whole turns.
func shifted(p orb.Point, turns float64) orb.Point {
	return orb.Point{p[0] - 360*turns, p[1]}
}

// appendNew appends p unless it repeats the last point.
func appendNew(points []orb.Point, p orb.Point) []orb.Point {
	if n := len(points); n > 0 && points[n-1] == p {
		return points
	}
	return append(points, p)
}
