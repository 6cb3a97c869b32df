package validate

import "math"

// position is longitude, latitude in degrees.
type position [2]float64

// place checks one position.
func (r *Report) place(where string, p position, within Bounds) {
	switch {
	case math.IsNaN(p[0]) || math.IsNaN(p[1]) || math.IsInf(p[0], 0) || math.IsInf(p[1], 0):
		r.addf("%s: position %v is not a number", where, p)
	case math.Abs(p[0]) > 180:
		r.addf("%s: longitude %v is beyond 180", where, p[0])
	case math.Abs(p[1]) > 90:
		r.addf("%s: latitude %v is beyond 90", where, p[1])
	case !within.holds(p):
		r.addf("%s: position %v lies outside %v", where, p, within)
	}
}

// path checks a line's or ring's positions.
func (r *Report) path(where string, path []position, within Bounds) {
	for i, p := range path {
		r.place(where, p, within)
		if i == 0 {
			continue
		}
		if p == path[i-1] {
			r.addf("%s: vertex %d repeats the one before", where, i)
		}
		if math.Abs(p[0]-path[i-1][0]) > 180 {
			r.addf("%s: edge %d jumps over the antimeridian", where, i)
		}
	}
}

// line checks an open line.
func (r *Report) line(where string, path []position, within Bounds) {
	if len(path) < 2 {
		r.addf("%s: line of %d positions", where, len(path))
	}
	r.path(where, path, within)
}

// ring checks a ring: it is closed, has at least four positions, and has the required orientation.
func (r *Report) ring(where string, path []position, exterior bool, within Bounds) {
	if len(path) < 4 {
		r.addf("%s: ring of %d positions", where, len(path))
		return
	}
	if path[0] != path[len(path)-1] {
		r.addf("%s: ring is not closed", where)
		return
	}
	r.path(where, path, within)
	switch area := signedArea(path); {
	case area == 0:
		r.addf("%s: ring has no area", where)
	case exterior && area < 0:
		r.addf("%s: exterior ring is clockwise", where)
	case !exterior && area > 0:
		r.addf("%s: hole is counter-clockwise", where)
	}
}

func signedArea(path []position) float64 {
	var sum float64
	o := path[0]
	for i := 1; i+1 < len(path); i++ {
		sum += (path[i][0]-o[0])*(path[i+1][1]-o[1]) - (path[i][1]-o[1])*(path[i+1][0]-o[0])
	}
	return sum
}

// Bounds is the box in which every position must be, in degrees. West is greater than East if it
// crosses the antimeridian. The zero Bounds means no limit. It finds swapped coordinates, which are
// plausible by themselves.
type Bounds struct{ West, South, East, North float64 }

func (b Bounds) holds(p position) bool {
	switch {
	case b == Bounds{}:
		return true
	case p[1] < b.South || p[1] > b.North:
		return false
	case b.West <= b.East:
		return p[0] >= b.West && p[0] <= b.East
	}
	return p[0] >= b.West || p[0] <= b.East
}
