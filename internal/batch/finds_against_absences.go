package batch

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
	"driftreach/internal/lineage"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// settle holds this quarter's finds against its absences, now that it is known
// which stand each piece of control work names. Without a quarter nothing is, since
// what was found in one may well be gone in another.
func (in Observed) settle(known []lineage.Known, s settings.Settings) Observed {
	if in.Quarter.IsZero() {
		return in
	}
	o := survey.DefaultOptions(in.Quarter)
	o.JoinDistance = geo.Meters(s.Stands.JoinDistance)
	done := survey.SettleAbsences(in.Records, newWorkplaces(in, known, o.JoinDistance).worked, o)
	in.Records, in.Findings = done.Records, check.Join(in.Findings, done.Findings)
	in.Files = slices.Clone(in.Files)
	in.setAside(done.Aside)
	return in
}

// workplaces is where control work was done, and when.
type workplaces struct {
	in     Observed
	join   geo.Meters
	placed *earth.Grid
	drawn  []*treatment.Treatment // those whose ground is told
	stands []workedStand
}

// workedStand is a stand known that work names.
type workedStand struct {
	known *lineage.Known
	box   orb.Bound
	days  []survey.Day
}

func newWorkplaces(in Observed, known []lineage.Known, join geo.Meters) *workplaces {
	w := &workplaces{in: in, join: join, placed: earth.NewGrid(join)}
	named := map[string][]survey.Day{}
	for i := range in.Actions {
		if a := &in.Actions[i]; a.Placed {
			w.placed.Add(int32(i), a.Position)
		}
		if a := &in.Actions[i]; len(a.Ground) > 0 {
			w.drawn = append(w.drawn, a)
		}
		if a := &in.Actions[i]; a.StandID != "" {
			named[a.StandID] = append(named[a.StandID], survey.DayOf(a.Date))
		}
	}
	for k := range known {
		if days := named[known[k].ID]; days != nil {
			w.stands = append(w.stands, workedStand{&known[k], known[k].Footprint.Bound(), days})
		}
	}
	return w
}

// worked says whether work was done within the join distance of a find, or on a
// stand whose footprint comes that near, from one day to another.
func (w *workplaces) worked(find *survey.Record, from, to survey.Day) bool {
	during := func(day survey.Day) bool { return from <= day && day <= to }
	found := false
	w.placed.Near(find.Position, func(i int32) bool {
		a := &w.in.Actions[i]
		found = during(survey.DayOf(a.Date)) && earth.Distance(a.Position, find.Position) <= w.join
		return !found
	})
	if found || slices.ContainsFunc(w.drawn, func(a *treatment.Treatment) bool {
		return during(survey.DayOf(a.Date)) && nearArea(a.Ground, a.Position, find.Position, w.join)
	}) {
		return true
	}
	return slices.ContainsFunc(w.stands, func(s workedStand) bool {
		return slices.ContainsFunc(s.days, during) && s.near(find.Position, w.join)
	})
}

// near says whether a place lies within a distance of the stand's footprint.
func (s workedStand) near(p orb.Point, d geo.Meters) bool {
	// a degree is more than 100 km of latitude; the stand's own middle is near
	// enough to tell most places apart
	span := max(s.box.Max[0]-s.box.Min[0], s.box.Max[1]-s.box.Min[1])
	if earth.Distance(s.known.Center, p) > d+geo.Meters(span*2*111_320) {
		return false
	}
	return nearArea(s.known.Footprint.Polygons(), s.known.Center, p, d)
}

// nearArea says whether a place lies within a distance of an area of degrees, which lies
// about another.
func nearArea(area orb.MultiPolygon, about, p orb.Point, d geo.Meters) bool {
	frame := earth.NewFrame(about)
	return shape.Within(frame.Project(area), frame.Forward(p), d)
}
