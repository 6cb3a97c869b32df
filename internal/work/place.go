package work

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// place checks every vertex and makes longitudes continuous; false means rejected.
func (c *checker) place(w *Work) bool {
	paths := w.Paths()
	if !check.Placed(&c.Checker, w, paths) {
		return false
	}
	if !slices.ContainsFunc(paths, func(path orb.LineString) bool { return len(path) > 0 }) {
		c.Report(w, ruleEmpty, "geometry", "", "the work has no place; it was rejected")
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
