package linear

import (
	"sort"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Cut returns the piece of a line between two measures, from <= to: the vertices between them, and
// new ends where a measure falls inside a segment. Measures are those of Measure; one beyond an end
// counts as the end. A piece of length 0 has two equal vertices; a line without vertices gives
// none. The piece is a copy. Logarithmic in the line, linear in the piece.
func Cut(ls orb.LineString, measures []float64, from, to geo.Meters) orb.LineString {
	if len(ls) == 0 {
		return nil
	}
	a, b := float64(from), float64(to)
	first, last := segmentAt(measures, a), segmentAt(measures, b)
	piece := make(orb.LineString, 0, last-first+2)
	piece = append(piece, PointAt(ls, measures, from))
	for i := first + 1; i <= last; i++ {
		// a vertex at an end is already there
		if measures[i] > a && measures[i] < b {
			piece = append(piece, ls[i])
		}
	}
	return append(piece, PointAt(ls, measures, to))
}

// segmentAt returns the last segment that begins at or before a measure, or the first or last
// segment for a measure beyond the ends.
func segmentAt(measures []float64, at float64) int {
	i := sort.Search(len(measures), func(i int) bool { return measures[i] > at }) - 1
	return max(0, min(i, len(measures)-2))
}

// fractionAt returns how far along segment i a measure lies, 0 to 1.
func fractionAt(measures []float64, i int, at float64) float64 {
	if i+1 >= len(measures) {
		return 0
	}
	length := measures[i+1] - measures[i]
	if length <= 0 || at <= measures[i] {
		return 0
	}
	return min(1, (at-measures[i])/length)
}
