package lineage

import (
	"iter"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/spill"
	"driftreach/internal/survey"
)

// coarse is the number of sides of a round corner of ground around an outline. Our choice: few,
// since the ground is wide anyway.
const coarse = 16

// coarseChord is the sagitta of the chords that draw circles of ground. The circles are enlarged by
// the same amount, so that nothing is left out. Our choice: far below a position error, and some 20
// sides around the usual find.
const coarseChord geo.Meters = 0.25

// Gathering is what shows which ground a quarter's survey covered.
type Gathering struct {
	// Records are the quarter's own, in the order of their ids, each with the number of its stand; -1
	// for none. Records of a stand lie close together, which saves memory. Nothing else depends on it.
	Records  iter.Seq2[*survey.Record, int32]
	Evidence Evidence
	Settings Settings
	Workers  int
	Shelf    *spill.Shelf // where the ground is put; nil or not on disk to have it in memory
}

// SurveyedNow is Gathering.Ground for records in memory without known stands.
func SurveyedNow(now Now, e Evidence, s Settings, workers int) orb.MultiPolygon {
	g := Gathering{Evidence: e, Settings: s, Workers: workers, Records: func(yield func(*survey.Record, int32) bool) {
		for i := range now.Records {
			if !yield(&now.Records[i], -1) {
				return
			}
		}
	}}
	return g.Ground().All()
}

// Ground returns the ground that a quarter's survey covered closely enough to find tall cane, in
// degrees, dissolved: surveyed areas; surveyed lines as far as their method finds cane; the patches
// of finds with a margin; and the ground searched by records of "not detected". Without surveyed
// ground the margin of a find is the join distance, within which another plant would have been
// mapped with it. With surveyed ground it is the distance two positions of one plant may be apart.
// It panics with the error of a disk that does not take the ground.
func (g *Gathering) Ground() Pieces {
	w := &witness{evidence: g.Evidence, settings: g.Settings}
	if g.Evidence.Given {
		w.ground = newSurveyedPieces(g.Evidence.Ground)
		w.seeWater()
	}
	var drawn []*survey.Record
	at := whereabouts{}
	for r, stand := range g.Records {
		if r.Outline != nil {
			drawn = append(drawn, r)
		} else {
			at.add(circle{r.Position, w.about(r)}, stand)
		}
	}
	if len(drawn) == 0 && w.ground == nil {
		return at.draw(g.Workers, g.Shelf)
	}
	parts := make([]orb.MultiPolygon, len(drawn))
	inSpans(len(drawn), g.Workers, func(i int) { parts[i] = w.aboutOutline(drawn[i]) })
	if w.ground != nil {
		parts = append(parts, w.covered(g.Workers)...)
	}
	return PiecesOf(Together(append(parts, at.draw(g.Workers, nil).All()), g.Workers), g.Shelf)
}

// about is how far around a record with a position the ground is covered.
func (w *witness) about(r *survey.Record) geo.Meters {
	radius := w.searched(r)
	if r.Detected {
		radius = radiusOf(r, w.settings)
	}
	if radius += w.margin(r); radius > 0 {
		radius += coarseChord
	}
	return radius
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
