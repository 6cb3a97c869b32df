package linear

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// Cut returns the piece of a line between two measures, from <= to: the vertices between them, and
// new ends where a measure falls inside a segment. Measures are those of earth.LengthsAlong; one beyond
// an end counts as the end. A piece of length 0 has two equal vertices; a line without vertices gives
// none. The piece is a copy. Logarithmic in the line, linear in the piece.
func Cut(ls orb.LineString, measures []geo.Meters, from, to geo.Meters) orb.LineString {
	if len(ls) == 0 {
		return nil
	}
	first, last := segmentAt(measures, from), segmentAt(measures, to)
	piece := make(orb.LineString, 0, last-first+2)
	piece = append(piece, PointAt(ls, measures, from))
	for i := first + 1; i <= last; i++ {
		// a vertex at an end is already there
		if measures[i] > from && measures[i] < to {
			piece = append(piece, ls[i])
		}
	}
	return append(piece, PointAt(ls, measures, to))
}

// PointAt returns the place at a measure along a line, in degrees; a measure beyond an end gives
// the end. The measures are those of earth.LengthsAlong. Within 1e-4 m on segments up to 1 km. Logarithmic.
func PointAt(ls orb.LineString, measures []geo.Meters, at geo.Meters) orb.Point {
	i := segmentAt(measures, at)
	if i+1 >= len(ls) {
		return ls[i]
	}
	p, q := ls[i], ls[i+1]
	target, fraction := at-measures[i], fractionAt(measures, i, at)
	if fraction <= 0 || fraction >= 1 {
		return Interpolate(p, q, fraction)
	}
	// degrees are not exactly proportional to metres; each round reduces the error by the relative
	// difference along the segment
	for range 2 {
		if s := earth.Distance(p, Interpolate(p, q, fraction)); s > 0 {
			fraction = min(1, float64(geo.Meters(fraction)*target/s))
		}
	}
	return Interpolate(p, q, fraction)
}
