// Package valued says what places a programme holds dear, with their weights, and checks
// them: a spring, a refuge, an intake, as points, lines or areas.
package valued

import (
	"github.com/paulmach/orb"
)

// Place is one of them, read and checked.
type Place struct {
	ID     string  // value_id
	File   string  // as the user named it
	Row    int     // its place there, counted from 1
	Name   string  // blank for not given
	Weight float64 // what a kilometre of it counts, beside others; NaN for not given, which counts 1

	Points orb.MultiPoint      // WGS 84 degrees
	Lines  orb.MultiLineString // longitudes run on past 180 rather than jump
	Areas  orb.MultiPolygon    // likewise; rings closed
}

// Paths returns the place as lines of degrees: a point as a line of one vertex, each line,
// each ring.
func (p *Place) Paths() []orb.LineString {
	out := make([]orb.LineString, 0, len(p.Points)+len(p.Lines)+len(p.Areas))
	for _, at := range p.Points {
		out = append(out, orb.LineString{at})
	}
	out = append(out, p.Lines...)
	for _, polygon := range p.Areas {
		for _, ring := range polygon {
			out = append(out, orb.LineString(ring))
		}
	}
	return out
}
