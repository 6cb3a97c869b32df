package lineage

import (
	"cmp"
	"math"
	"slices"
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
	box, ok := boxOf(known.Footprint)
	if !ok {
		return v
	}
	frame, areas := earth.NewFrame(known.Center), known.Footprint.Polygons()
	mine := plotIn(frame, areas)
	if w.ground != nil {
		share, day := w.ground.share(known.Center, frame, mine, w.settings.SeenDistance)
		if v.Share = share; share >= w.settings.SurveyedShare {
			v.Looked, v.Day = true, day
		}
	}
	if day, recorded := w.recorded(box, frame, mine); recorded {
		v.Looked, v.Day = true, later(v.Day, day)
	}
	return v
}

// recorded says whether a record near the stand tells of a visit, and the last
// day that one does.
func (w *witness) recorded(box orb.Bound, frame earth.Frame, mine plot) (day time.Time, found bool) {
	s := w.settings
	var near []int32
	w.spots.in(grown(box, max(s.SeenDistance, s.JoinDistance)), func(i int32) bool {
		if w.reach(i) >= 0 {
			near = append(near, i)
		}
		return true
	})
	// The last first, so that the first that tells of a visit settles it; of a day,
	// the likeliest first.
	records := w.evidence.Records
	middle := box.Center()
	off := func(i int32) float64 {
		p := records[i].Position
		return max(math.Abs(earth.Wrap(p[0]-middle[0])), math.Abs(p[1]-middle[1]))
	}
	slices.SortFunc(near, func(a, b int32) int {
		return cmp.Or(cmp.Compare(records[b].End, records[a].End), cmp.Compare(off(a), off(b)))
	})
	for _, i := range near {
		if shape.Within(mine.areas, frame.Forward(records[i].Position), w.reach(i)) {
			return records[i].End.Time(), true
		}
	}
	return time.Time{}, false
}

// reach returns how near a stand a record must lie to tell of a visit; negative
// for one that cannot.
func (w *witness) reach(i int32) geo.Meters {
	within := geo.Meters(-1)
	if !w.evidence.Records[i].Detected {
		within = w.settings.JoinDistance
	}
	if w.ground == nil {
		within = max(within, w.settings.SeenDistance)
	}
	return within
}
