package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// mouth is where the largest river meets the sea, in metres. inland is the heading of its valley from
// there, in radians from east. Our choice.
var (
	mouth  = orb.Point{-16500, -8200}
	inland = 0.47
)

// clearance is the smallest distance in metres between two streams, except where they join: there is a
// divide between valleys. Our choice.
const clearance = 150

// growRivers grows every planned stream upstream from its confluence.
func growRivers(r *rand.Rand) []course {
	var courses []course
	index := map[string]int{}
	for _, p := range plans {
		var c course
		if p.into == "" {
			c = newCourse(p, growMain(r, p))
		} else {
			c = growTributary(r, courses, courses[index[p.into]], p)
		}
		index[p.code] = len(courses)
		courses = append(courses, c)
	}
	return courses
}

// growMain grows the river that flows into the sea. A path that crosses itself is discarded.
func growMain(r *rand.Rand, p plan) []orb.Point {
	for {
		path := meander(r, mouth, inland, p.km*1000, [2]float64{0.3, 1.25})
		if roomFor(path, nil) == len(path) {
			return path
		}
	}
}

// growTributary tries paths at increasing distance from the planned confluence and keeps the first that
// has room for its whole length. If no valley is wide enough, it keeps the longest path.
func growTributary(r *rand.Rand, others []course, parent course, p plan) course {
	swing := [2]float64{0.15, 1}
	if p.km > 10 {
		swing = [2]float64{0.25, 1.2}
	}
	var best []orb.Point
	for try := range 150 {
		stray := 0.012 + 0.0015*float64(try)
		join := bendToward(parent, min(0.97, max(0.03, p.at+stray*r.NormFloat64())), p.side)
		heading := valleyHeading(parent, join) + p.side*(0.75+0.35*r.Float64())
		path := meander(r, parent.path[join], heading, p.km*1000, swing)
		path = path[:roomFor(path, others)]
		if len(path) > len(best) {
			best = path
		}
		if float64(len(path))*vertexStep > 0.9*p.km*1000 {
			break
		}
	}
	return newCourse(p, best)
}

// bendToward returns the vertex near a share of the parent's length, from its mouth, that is farthest
// out to one side: streams join on the outside of a bend.
func bendToward(parent course, share, side float64) int {
	n := len(parent.path)
	from := n - 1 - int(share*float64(n))
	heading := valleyHeading(parent, min(max(from, 1), n-2))
	sin, cos := math.Sincos(heading)
	best, out := -1, math.Inf(-1)
	for i := max(2, from-9); i <= min(n-3, from+9); i++ {
		p := parent.path[i]
		if d := side * (-sin*p[0] + cos*p[1]); d > out {
			best, out = i, d
		}
	}
	return best
}

// valleyHeading returns the upstream heading of a course, averaged over about 1.3 km around a vertex to
// smooth out the bends.
func valleyHeading(c course, vertex int) float64 {
	p := c.path[min(vertex+30, len(c.path)-1)]
	q := c.path[max(vertex-30, 0)]
	return math.Atan2(q[1]-p[1], q[0]-p[0])
}

// roomFor returns how many vertices of a path, from its start, keep clear of the existing streams and
// of the path itself. Near the confluence less distance is needed.
func roomFor(path []orb.Point, others []course) int {
	const start, own = 20, 24
	for i := 1; i < len(path); i++ {
		if i > own && crowded(path[:i-own], path[i], clearance/3) {
			return i
		}
		near := clearance * min(1, float64(i)/start)
		for _, c := range others {
			if crowded(c.path, path[i], near) {
				return i
			}
		}
	}
	return len(path)
}

// crowded says whether a path comes within near metres of p. Vertices are vertexStep apart, so distant
// ones can be skipped.
func crowded(path []orb.Point, p orb.Point, near float64) bool {
	for i := 0; i < len(path); {
		d := span(path[i], p)
		if d < near {
			return true
		}
		i += 1 + int((d-near)/(vertexStep*1.05))
	}
	return false
}
