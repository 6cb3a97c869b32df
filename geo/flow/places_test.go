package flow

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// ground is a place on earth where a network is drawn, in metres east and north of it.
type ground struct {
	name   string
	middle orb.Point
}

// grounds are places where careless code goes wrong.
var grounds = []ground{
	{"equator", orb.Point{20, 0}},
	{"south of the equator", orb.Point{-60, -35.2}},
	{"seventy north", orb.Point{25, 70}},
	{"on the antimeridian", orb.Point{180, -17}},
	{"near the pole", orb.Point{-179.9999, 84.9}},
}

// at converts metres from the middle to degrees.
func (g ground) at(x, y float64) orb.Point {
	perLon, perLat := earth.LocalScale(g.middle[1])
	return orb.Point{earth.Wrap(g.middle[0] + x/perLon), g.middle[1] + y/perLat}
}

// line returns a line through metres x1, y1, x2, y2 ... about the middle.
func (g ground) line(name string, xy ...float64) Line {
	l := plain(name)
	for i := 0; i < len(xy); i += 2 {
		l.Path = append(l.Path, g.at(xy[i], xy[i+1]))
	}
	return l
}

// metresApart is the straight distance between two places.
func metresApart(p, q orb.Point) float64 {
	if math.IsNaN(p[0]) {
		return math.Inf(1)
	}
	return separation(p, q)
}
