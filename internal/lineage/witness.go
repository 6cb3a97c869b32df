package lineage

import (
	"math"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

func newWitness(before Before, now Now, e Evidence, s Settings) *witness {
	w := &witness{before: before, now: now, evidence: e, settings: s}
	if e.Given {
		w.ground = newSurveyedPieces(e.Ground)
	}
	w.seeWater()
	w.standOf = make([]int32, len(now.Records))
	for r := range w.standOf {
		w.standOf[r] = -1
	}
	for i := range now.Stands {
		for _, m := range now.Stands[i].Members {
			w.standOf[m] = int32(i)
		}
	}
	w.finds = newPatches(now.Records, func(r *survey.Record) (geo.Meters, bool) { return radiusOf(r, s), r.Detected })
	w.absences = newPatches(now.Records, func(r *survey.Record) (geo.Meters, bool) { return w.searched(r), !r.Detected })
	return w
}

// seeWater prepares the streams of the evidence.
func (w *witness) seeWater() {
	w.water = linear.NewIndexOf(w.evidence.Water.Paths)
	for _, half := range w.evidence.Water.Half {
		w.widest = max(w.widest, half)
	}
}

// searched returns how far around its position a record of "not detected" searched.
func (w *witness) searched(r *survey.Record) geo.Meters {
	if r.PatchArea > 0 || r.Outline != nil {
		return radiusOf(r, w.settings)
	}
	return w.settings.Sight[surveyed.Foot].Absent
}

func (w *witness) viewer(known *Known, children []int32) *viewer {
	return &viewer{
		witness: w, frame: earth.NewFrame(known.Center), children: children,
		tall: len(children) > 0 && known.Status == survey.Untreated, treated: known.Status != survey.Untreated,
	}
}

// reach returns how far from its line a method sees.
func (v *viewer) reach(m surveyed.Method) geo.Meters {
	switch {
	case v.treated && m != surveyed.Foot:
		return 0
	case v.tall:
		return v.settings.Sight[m].Found
	}
	return v.settings.Sight[m].Absent
}

// sees says whether a place was surveyed, and the last day of the records and ground that show it.
func (v *viewer) sees(at orb.Point) (seen bool, day time.Time) {
	xy := v.frame.Forward(at)
	tell := func(d time.Time) { seen, day = true, later(day, d) }
	if v.ground != nil {
		v.fromAreas(at, tell)
		v.fromLines(at, xy, tell)
	}
	v.absences.about(at, v.slack, func(r int32) bool {
		if v.absences.within(v.frame, r, xy, v.slack) {
			tell(v.now.Records[r].End.Time())
		}
		return true
	})
	if len(v.children) > 0 {
		about := v.aboutFind()
		v.finds.about(at, about, func(r int32) bool {
			if !v.mine(r) || !v.finds.within(v.frame, r, xy, about) {
				return true
			}
			tell(v.now.Stands[v.standOf[r]].Last)
			return len(v.children) > 1 // another stand may have a later day
		})
	}
	return seen, day
}

// aboutFind is how far around the patch of a find its crew surveyed: the join distance, within
// which another plant would have been mapped with it. With surveyed ground it is 0: only the patch
// itself.
func (v *viewer) aboutFind() geo.Meters {
	if v.ground != nil {
		return 0
	}
	return v.settings.JoinDistance
}

// mine says whether a find belongs to a stand linked to the known one.
func (v *viewer) mine(record int32) bool {
	for _, i := range v.children {
		if v.standOf[record] == i {
			return true
		}
	}
	return false
}

// fromAreas reports the surveyed areas that contain a place.
func (v *viewer) fromAreas(at orb.Point, tell func(time.Time)) {
	for m := range v.ground.areas {
		if v.treated && surveyed.Method(m) != surveyed.Foot {
			continue
		}
		a := &v.ground.areas[m]
		for _, k := range a.boxes.touching(orb.Bound{Min: at, Max: at}) {
			polygon := a.polygons[k]
			turn := 360 * math.Round((polygon.Bound().Center()[0]-at[0])/360)
			if shape.Contains(orb.MultiPolygon{polygon}, orb.Point{at[0] + turn, at[1]}) {
				tell(v.ground.day(a.of[k]))
				break // pieces are sorted with the latest first
			}
		}
	}
}

// fromLines reports the surveyed lines from which a place is seen.
func (v *viewer) fromLines(at, xy orb.Point, tell func(time.Time)) {
	farthest := geo.Meters(0)
	for m := range v.settings.Sight {
		farthest = max(farthest, v.reach(surveyed.Method(m)))
	}
	v.runs = v.ground.lines.AppendNear(v.runs[:0], at, farthest+v.slack)
	for _, run := range v.runs {
		piece := v.ground.of[run.Line]
		g := &v.ground.ground[piece]
		reach := v.reach(g.Method)
		path := v.frame.ProjectLine(v.ground.paths[run.Line][run.First : run.Last+1])
		for i := 0; i+1 < len(path); i++ {
			d, t := geo.SegmentDistance(xy, path[i], path[i+1])
			if d > reach+v.slack || reach == 0 {
				continue
			}
			from := orb.Point{path[i][0] + t*(path[i+1][0]-path[i][0]), path[i][1] + t*(path[i+1][1]-path[i][1])}
			if v.inView(from, xy, g) {
				tell(v.ground.day(piece))
				break
			}
		}
	}
}
