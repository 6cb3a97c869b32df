package lineage

import (
	"math"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
	"driftreach/internal/effort"
)

// surveyed is the ground looked at in a quarter, made ready for questions about
// stands.
type surveyed struct {
	areas []orb.Polygon
	boxes boxes // of areas
	paths []orb.LineString
	lines *linear.Index // of paths

	areaDays, pathDays []time.Time // last day of each; zero for none
}

func newSurveyed(ground []effort.Ground) *surveyed {
	s := &surveyed{}
	for i := range ground {
		for _, area := range ground[i].Areas {
			if len(area) == 0 || len(area[0]) == 0 {
				continue
			}
			s.boxes.add(area.Bound(), int32(len(s.areas)))
			s.areas, s.areaDays = append(s.areas, area), append(s.areaDays, ground[i].End)
		}
		for _, path := range ground[i].Lines {
			s.paths, s.pathDays = append(s.paths, path), append(s.pathDays, ground[i].End)
		}
	}
	s.lines = linear.NewIndex(s.paths)
	return s
}

// seenSegments is the sides of a quarter circle about the end of a surveyed line.
// Our choice: a share needs no more.
const seenSegments = 8

// share returns the share of a plot that lies in the areas or within seen of the
// lines, and the last day of those that come that near its box; zero for none.
func (s *surveyed) share(center orb.Point, frame earth.Frame, mine plot, seen geo.Meters) (share float64, day time.Time) {
	near := frame.Unproject(mine.areas).Bound()
	var parts []orb.MultiPolygon
	for _, k := range s.boxes.touching(near) {
		// a hair wider, so that the edge of the box stays off the plot
		part := shape.Clip(orb.MultiPolygon{turned(s.areas[k], center)}, grown(near, 1))
		if valid, _ := shape.MakeValid(frame.Project(part)); len(valid) > 0 {
			parts = append(parts, valid)
			day = later(day, s.areaDays[k])
		}
	}
	lines, last := s.along(center, frame, mine, seen)
	if len(lines) > 0 {
		day = later(day, last)
		radii := make([]geo.Meters, len(lines))
		for i := range radii {
			radii[i] = seen
		}
		parts = append(parts, shape.BufferLines(lines, radii, seenSegments, 1))
	}
	if len(parts) == 0 || mine.size <= 0 {
		return 0, day
	}
	looked := shape.IntersectionArea(mine.areas, shape.Union(parts, 1))
	return min(1, float64(looked/mine.size)), day
}

// later returns the later of two days.
func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// along returns the pieces of surveyed lines that may come within seen of a plot,
// and the last day of them.
func (s *surveyed) along(center orb.Point, frame earth.Frame, mine plot, seen geo.Meters) (lines []orb.LineString, day time.Time) {
	radius := 0.0
	for _, polygon := range mine.areas {
		for _, xy := range polygon[0] {
			radius = max(radius, math.Hypot(xy[0], xy[1]))
		}
	}
	for _, run := range s.lines.Near(center, geo.Meters(radius)+seen) {
		lines = append(lines, frame.ProjectLine(s.paths[run.Line][run.First:run.Last+1]))
		day = later(day, s.pathDays[run.Line])
	}
	return lines, day
}

// turned returns an area moved by whole turns to the longitudes about a place.
func turned(area orb.Polygon, about orb.Point) orb.Polygon {
	turn := 360 * math.Round((about[0]-area.Bound().Center()[0])/360)
	if turn == 0 {
		return area
	}
	out := area.Clone()
	for _, ring := range out {
		for i := range ring {
			ring[i][0] += turn
		}
	}
	return out
}
