package lineage

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
)

// Surveyed is ground surveyed closely enough to find tall cane, in a chain of batches up to one of
// them. Plants found later on other ground had never been looked for there: they are neither new
// nor growth.
type Surveyed struct {
	Areas    orb.MultiPolygon // degrees, dissolved
	coverage *shape.Coverage
}

// NewSurveyed prepares dissolved ground for queries. It keeps the areas.
func NewSurveyed(areas orb.MultiPolygon) *Surveyed {
	apiece := make([]orb.MultiPolygon, 0, len(areas))
	for _, polygon := range areas {
		apiece = append(apiece, orb.MultiPolygon{polygon})
		if box := polygon.Bound(); box.Max[0] > 180 {
			apiece = append(apiece, orb.MultiPolygon{turned(polygon, orb.Point{box.Center()[0] - 360})})
		}
	}
	return &Surveyed{areas, shape.NewCoverage(apiece)}
}

// Holds says whether a place, in degrees, is in the ground.
func (l *Surveyed) Holds(p orb.Point) bool {
	p[0] = earth.Wrap(p[0])
	return l.coverage.First(p) >= 0
}

// Meets says whether a place in a box of degrees may be in the ground. A box beyond 180 degrees counts
// as meeting it.
func (l *Surveyed) Meets(box orb.Bound) bool {
	if box.Min[0] < -180 || box.Max[0] >= 180 {
		return true
	}
	across, cover := l.coverage.Meeting(box)
	return len(across) > 0 || cover >= 0
}

// Share returns the share of a stand's footprint in the ground, 0 to 1; 1 for a stand without a
// footprint.
func (l *Surveyed) Share(footprint stand.Outline) float64 {
	box, ok := boxOf(footprint)
	if !ok {
		return 1
	}
	areas, turn := footprint.Polygons(), earth.Wrap(box.Min[0])-box.Min[0]
	box.Min[0], box.Max[0] = box.Min[0]+turn, box.Max[0]+turn
	across, cover := l.coverage.Meeting(box)
	if cover >= 0 {
		return 1
	}
	if len(across) == 0 {
		return 0
	}
	frame := earth.NewFrame(box.Center())
	mine := plotIn(frame, areas)
	around := box.Pad(max(1e-5, 0.1*max(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])))
	inside := geo.SquareMeters(0)
	for _, i := range across { // dissolved: no two overlap
		part, _ := shape.MakeValid(frame.Project(l.coverage.Clip(i, around)))
		inside += shape.IntersectionArea(mine.areas, part)
	}
	if share := float64(inside / mine.size); share < whole {
		return share
	}
	return 1
}

// Together dissolves areas in degrees. Each of the areas must already be dissolved.
func Together(parts []orb.MultiPolygon, workers int) orb.MultiPolygon {
	parts = slices.DeleteFunc(parts, func(mp orb.MultiPolygon) bool { return len(mp) == 0 })
	if len(parts) == 1 {
		return shape.Gather(parts)
	}
	return shape.Union(parts, workers)
}

// Around returns the ground around stands without other information, in degrees: their footprints
// and the ground within the join distance.
func Around(known []Known, s Settings, workers int) orb.MultiPolygon {
	parts := make([]orb.MultiPolygon, len(known))
	inSpans(len(known), workers, func(k int) {
		if _, ok := boxOf(known[k].Footprint); !ok {
			return
		}
		frame := earth.NewFrame(known[k].Center)
		valid, _ := shape.MakeValid(frame.Project(known[k].Footprint.Polygons()))
		parts[k] = frame.Unproject(shape.BufferPolygon(valid, s.JoinDistance, coarse/4))
	})
	return Together(parts, workers)
}
