package lineage

import (
	"math"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/effort"
	"driftreach/internal/survey"
)

// Evidence is what tells who was visited in a quarter.
type Evidence struct {
	Records []survey.Record
	Given   bool            // surveyed ground was given
	Ground  []effort.Ground // when it was
}

// Visit says whether a known stand was visited in a quarter.
type Visit struct {
	Looked bool
	Share  float64 // of its footprint that was looked at, 0 to 1; NaN when no surveyed ground was given

	// Day is the last day that records or surveyed ground near it tell of; zero when
	// none of them has a date.
	Day time.Time
}

// Visits returns for each known stand whether it was visited, by up to workers
// goroutines with the same answer for any number. Cost is that of sorting the
// records, and of the records and the pieces of surveyed ground near each stand.
func Visits(known []Known, e Evidence, s Settings, workers int) []Visit {
	w := witness{evidence: e, settings: s}
	w.spots = newSpots(len(e.Records), func(i int32) orb.Point { return e.Records[i].Position })
	if e.Given {
		w.ground = newSurveyed(e.Ground)
	}
	out := make([]Visit, len(known))
	inSpans(len(known), workers, func(k int) { out[k] = w.visit(&known[k]) })
	return out
}

// witness answers for one quarter.
type witness struct {
	evidence Evidence
	settings Settings
	spots    *spots
	ground   *surveyed // nil when none was given
}

func (w *witness) visit(known *Known) Visit {
	v := Visit{Share: math.NaN()}
	areas := known.Footprint.Polygons()
	if len(areas) == 0 {
		return v
	}
	frame := earth.NewFrame(known.Center)
	mine := plotIn(frame, areas)
	if w.ground != nil {
		share, day := w.ground.share(known.Center, frame, mine, w.settings.SeenDistance)
		if v.Share = share; share >= w.settings.SurveyedShare {
			v.Looked, v.Day = true, day
		}
	}
	if day, recorded := w.recorded(areas, frame, mine); recorded {
		v.Looked, v.Day = true, later(v.Day, day)
	}
	return v
}

// recorded says whether a record near the stand tells of a visit, and the last
// day that one does.
func (w *witness) recorded(areas orb.MultiPolygon, frame earth.Frame, mine plot) (day time.Time, found bool) {
	s := w.settings
	w.spots.in(grown(areas.Bound(), max(s.SeenDistance, s.JoinDistance)), func(i int32) bool {
		r := &w.evidence.Records[i]
		if found && !r.End.After(day) {
			return true // it tells nothing more
		}
		within := geo.Meters(-1)
		if !r.Detected {
			within = s.JoinDistance
		}
		if w.ground == nil {
			within = max(within, s.SeenDistance)
		}
		if within >= 0 && shape.DistanceToLine(mine.areas, orb.LineString{frame.Forward(r.Position)}) <= within {
			found, day = true, later(day, r.End)
		}
		return true
	})
	return day, found
}
