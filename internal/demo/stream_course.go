package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// course is one stream, from its source to where it joins another stream or the sea.
type course struct {
	plan
	path []orb.Point // metres, downstream
	arc  []float64   // metres along the path from its source to each vertex
}

func (c course) length() float64 { return c.arc[len(c.arc)-1] }

// at returns the place d metres from the source, and the heading there.
func (c course) at(d float64) (orb.Point, float64) {
	i := 1
	for i < len(c.arc)-1 && c.arc[i] < d {
		i++
	}
	p, q := c.path[i-1], c.path[i]
	t := (d - c.arc[i-1]) / (c.arc[i] - c.arc[i-1])
	place := orb.Point{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])}
	return place, math.Atan2(q[1]-p[1], q[0]-p[0])
}

// newCourse turns a path grown upstream into a course that runs downstream.
func newCourse(p plan, upstream []orb.Point) course {
	c := course{plan: p, path: make([]orb.Point, len(upstream)), arc: make([]float64, len(upstream))}
	for i, at := range upstream {
		c.path[len(upstream)-1-i] = at
	}
	for i := 1; i < len(c.path); i++ {
		c.arc[i] = c.arc[i-1] + span(c.path[i-1], c.path[i])
	}
	return c
}

// vertexStep is the distance between vertices in metres, as in centerlines traced from air photographs.
// Our choice.
const vertexStep = 22

// meander grows a path upstream from start. Every half bend is a sine-generated curve, heading = axis +
// swing sin(pi u): the path of least variance of Langbein and Leopold (USGS Professional Paper 422-H,
// 1966). The axis follows a winding valley around the given heading. Trains of wide bends alternate
// with straight stretches. Bends get smaller toward the source, since their length is proportional to
// the width.
func meander(r *rand.Rand, start orb.Point, heading, length float64, swing [2]float64) []orb.Point {
	path := []orb.Point{start}
	valley := windingValley(r, heading)
	axis, sign, train := heading, 1.0, r.Float64()
	if r.IntN(2) == 0 {
		sign = -1
	}
	for gone := 0.0; gone < length; {
		bend := halfBend(length-gone) * (0.6 + 0.9*r.Float64())
		steps := max(4, int(math.Round(bend/vertexStep)))
		next := valley(gone+bend) + 0.13*r.NormFloat64()
		// Neighbouring bends are similar: a first-order random walk between 0 and 1. Our choice, by
		// eye.
		train = min(1, max(0, train+0.35*r.NormFloat64()))
		high := swing[0] + (swing[1]-swing[0])*train
		for i := range steps {
			u := (float64(i) + 0.5) / float64(steps)
			theta := axis + u*(next-axis) + sign*high*math.Sin(math.Pi*u)
			path = append(path, ahead(path[len(path)-1], theta, vertexStep))
		}
		gone += float64(steps) * vertexStep
		axis, sign = next, -sign
	}
	return path
}

// windingValley returns the heading of a valley by distance from its lower end: two slow waves around
// the given heading, zero at the lower end. Lengths of 5 and 13 km and swings of about 20 degrees are
// our choice, by eye.
func windingValley(r *rand.Rand, heading float64) func(d float64) float64 {
	short, long := 4000+2500*r.Float64(), 10000+6000*r.Float64()
	one, two := 0.5*r.NormFloat64(), 0.4*r.NormFloat64()
	return func(d float64) float64 {
		return heading + one*math.Sin(2*math.Pi*d/short) + two*math.Sin(2*math.Pi*d/long)
	}
}

// halfBend returns the path length of half a meander in metres, given the length of stream above it: 10
// bankfull widths, but no less than the vertices can show.
func halfBend(above float64) float64 {
	return max(120, 10*bankfull(above/1000*2.5))
}
