package work

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// place looks at every vertex and makes longitudes run on; false means rejected.
func (c *checker) place(w *Work) bool {
	paths := w.Paths()
	at, why := check.PathsOf(paths)
	switch text := fmt.Sprintf("%g %g", at[0], at[1]); why {
	case check.NotFinite:
		c.report(w, ruleNotFinite, "geometry", text, "a coordinate is not a finite number; the work was rejected")
		return false
	case check.NullIsland:
		c.report(w, ruleNullIsland, "geometry", text, "a position is 0, 0; the work was rejected")
		return false
	case check.OutOfRange:
		c.report(w, ruleOutOfRange, "geometry", text, "a position is outside the range of degrees; the work was rejected")
		return false
	}
	if !slices.ContainsFunc(paths, func(path orb.LineString) bool { return len(path) > 0 }) {
		c.report(w, ruleEmpty, "geometry", "", "the work has no place; it was rejected")
		return false
	}
	for i := range w.Points {
		w.Points[i][0] = earth.Turned(w.Points[i][0])
	}
	for _, line := range w.Lines {
		earth.RunOn(line, line[0][0])
	}
	earth.RunOnAreas(w.Areas)
	return true
}
