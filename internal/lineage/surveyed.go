package lineage

import (
	"math"

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
}

func newSurveyed(ground []effort.Ground) *surveyed {
	s := &surveyed{}
	for i := range ground {
		for _, area := range ground[i].Areas {
			if len(area) == 0 || len(area[0]) == 0 {
				continue
			}
			s.boxes.add(area.Bound(), int32(len(s.areas)))
			s.areas = append(s.areas, area)
		}
		s.paths = append(s.paths, ground[i].Lines...)
	}
	s.lines = linear.NewIndex(s.paths)
	return s
}

// seenSegments is the sides of a quarter circle about the end of a surveyed line.
// Our choice: a share needs no more.
const seenSegments = 8

// share returns the share of a plot that lies in the areas or within seen of the
// lines.
func (s *surveyed) share(center orb.Point, frame earth.Frame, mine plot, seen geo.Meters) float64 {
	near := frame.Unproject(mine.areas).Bound()
	var parts []orb.MultiPolygon
	for _, k := range s.boxes.touching(near) {
		// a hair wider, so that the edge of the box stays off the plot
		part := shape.Clip(orb.MultiPolygon{turned(s.areas[k], center)}, grown(near, 1))
		if valid, _ := shape.MakeValid(frame.Project(part)); len(valid) > 0 {
			parts = append(parts, valid)
		}
	}
	if lines := s.along(center, frame, mine, seen); len(lines) > 0 {
		radii := make([]geo.Meters, len(lines))
		for i := range radii {
			radii[i] = seen
		}
		parts = append(parts, shape.BufferLines(lines, radii, seenSegments, 1))
	}
	if len(parts) == 0 || mine.size <= 0 {
		return 0
	}
	looked := shape.IntersectionArea(mine.areas, shape.Union(parts, 1))
	return min(1, float64(looked/mine.size))
}

// along returns the pieces of surveyed lines that may come within seen of a plot.
func (s *surveyed) along(center orb.Point, frame earth.Frame, mine plot, seen geo.Meters) []orb.LineString {
	radius := 0.0
	for _, polygon := range mine.areas {
		for _, xy := range polygon[0] {
			radius = max(radius, math.Hypot(xy[0], xy[1]))
		}
	}
	var lines []orb.LineString
	for _, run := range s.lines.Near(center, geo.Meters(radius)+seen) {
		lines = append(lines, frame.ProjectLine(s.paths[run.Line][run.First:run.Last+1]))
	}
	return lines
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
