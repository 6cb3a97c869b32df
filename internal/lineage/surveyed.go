package lineage

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
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

// coarse is the number of sides of a round corner of ground around an outline. Our choice: few,
// since the ground is wide anyway.
const coarse = 16

// coarseChord is the sagitta of the chords that draw circles of ground. The circles are enlarged by
// the same amount, so that nothing is left out. Our choice: far below a position error, and some 20
// sides around the usual find.
const coarseChord geo.Meters = 0.25

// SurveyedNow returns the ground that a quarter's survey covered closely enough to find tall cane,
// in degrees: surveyed areas; surveyed lines as far as their method finds cane; the patches of
// finds with a margin; and the ground searched by records of "not detected". Without surveyed
// ground the margin of a find is the join distance, within which another plant would have been
// mapped with it. With surveyed ground it is the distance two positions of one plant may be apart.
func SurveyedNow(now Now, e Evidence, s Settings, workers int) orb.MultiPolygon {
	w := &witness{now: now, evidence: e, settings: s} // enough where no ground was supplied
	if e.Given {
		w = newWitness(Before{}, now, e, s)
	}
	var places, drawn []*survey.Record
	for i := range now.Records {
		if r := &now.Records[i]; r.Outline == nil {
			places = append(places, r)
		} else {
			drawn = append(drawn, r)
		}
	}
	circles := w.circles(places, workers)
	parts := make([]orb.MultiPolygon, len(drawn))
	inSpans(len(drawn), workers, func(i int) { parts[i] = w.aboutOutline(drawn[i]) })
	if w.ground != nil {
		parts = append(parts, w.covered(workers)...)
	}
	if len(parts) == 0 {
		return circles
	}
	return Together(append(parts, circles), workers)
}

// Together dissolves areas in degrees. Each of the areas must already be dissolved.
func Together(parts []orb.MultiPolygon, workers int) orb.MultiPolygon {
	parts = slices.DeleteFunc(parts, func(mp orb.MultiPolygon) bool { return len(mp) == 0 })
	if len(parts) == 1 {
		return shape.Gather(parts)
	}
	return shape.Union(parts, workers)
}

// margin is how far around a find the ground counts as surveyed.
func (w *witness) margin(r *survey.Record) geo.Meters {
	switch {
	case !r.Detected:
		return 0
	case w.ground == nil:
		return w.settings.JoinDistance
	}
	return min(w.settings.JoinDistance, 2*uncertainty(r, w.settings))
}

// aboutOutline returns the ground around a record with a drawn patch, in degrees.
func (w *witness) aboutOutline(r *survey.Record) orb.MultiPolygon {
	frame := earth.NewFrame(r.Position)
	outline, _ := shape.MakeValid(frame.Project(r.Outline))
	if margin := w.margin(r); margin > 0 {
		outline = shape.BufferPolygon(outline, margin, coarse/4)
	}
	return frame.Unproject(outline)
}

// circles returns the ground around records with positions, in degrees, dissolved. Circles that may
// touch are drawn together, each such set in its own frame.
func (w *witness) circles(records []*survey.Record, workers int) orb.MultiPolygon {
	radius := make([]geo.Meters, len(records))
	boxes := make([]orb.Bound, len(records))
	inSpans(len(records), workers, func(i int) {
		r := records[i]
		radius[i] = w.searched(r)
		if r.Detected {
			radius[i] = radiusOf(r, w.settings)
		}
		if radius[i] += w.margin(r); radius[i] > 0 {
			radius[i] += coarseChord
		}
		frame, side := earth.NewFrame(r.Position), float64(radius[i])
		boxes[i] = orb.Bound{Min: frame.Inverse(orb.Point{-side, -side}), Max: frame.Inverse(orb.Point{side, side})}
	})
	classes := shape.Together(boxes)
	parts := make([]orb.MultiPolygon, len(classes))
	inSpans(len(classes), workers, func(k int) {
		positions := make([]orb.Point, len(classes[k]))
		for n, i := range classes[k] {
			positions[n] = records[i].Position
		}
		frame := earth.NewFrame(earth.Center(positions))
		discs := make([]shape.Disc, len(positions))
		for n, i := range classes[k] {
			discs[n] = shape.Disc{Center: frame.Forward(positions[n]), Radius: radius[i]}
		}
		drawn, _ := shape.DrawDiscs(discs, coarseChord)
		parts[k] = frame.Unproject(drawn)
	})
	return shape.Gather(parts)
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

// covered returns the surveyed ground of the quarter, in degrees.
func (w *witness) covered(workers int) []orb.MultiPolygon {
	parts := make([]orb.MultiPolygon, len(w.ground.ground))
	inSpans(len(parts), workers, func(i int) {
		g := &w.ground.ground[i]
		parts[i] = g.Areas
		reach := w.settings.Sight[g.Method].Found
		for _, line := range g.Lines {
			if reach == 0 || len(line) == 0 {
				continue
			}
			v := &viewer{witness: w, frame: earth.NewFrame(line.Bound().Center())}
			parts[i] = append(parts[i], v.frame.Unproject(v.sighted(v.frame.ProjectLine(line), reach, g))...)
		}
		if len(parts[i]) > 1 {
			parts[i] = shape.Union([]orb.MultiPolygon{parts[i]}, 1)
		}
	})
	return parts
}
