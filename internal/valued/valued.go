// Package valued defines and checks valued places with their weights: a spring, a refuge or an intake
// that a programme wants to protect, as points, lines or areas.
package valued

import (
	"github.com/paulmach/orb"
)

// Place is one valued place, read and checked.
type Place struct {
	ID     string  // value_id
	File   string  // as the user named it
	Row    int     // row number in the file, counted from 1
	Name   string  // blank for not given
	Weight float64 // weight of a kilometre of it; NaN if not given, which counts as 1

	Points orb.MultiPoint      // WGS 84 degrees
	Lines  orb.MultiLineString // longitudes continue past 180 instead of jumping
	Areas  orb.MultiPolygon    // the same; rings are closed
}

// Paths returns the place as lines in degrees: each point as a line with one vertex, each line, and
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
