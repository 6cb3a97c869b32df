package observed

import (
	"slices"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/check"
	"driftreach/internal/lineage"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// Settle compares this quarter's finds with its absences. It needs to know which stand each piece of
// control work names. Without a quarter nothing is compared, since a plant found in one quarter may be
// gone in another. The error is one of where records are kept.
func (in Quarter) Settle(known []lineage.Known, s settings.Settings) (Quarter, error) {
	if in.Quarter.IsZero() {
		return in, nil
	}
	worked, o := in.absences(known, s)
	var done survey.Settled
	if in.Records.Kept != nil {
		var gone []bool
		var err error
		if gone, done = survey.SettleKept(in.Records.Kept, worked, o); gone != nil {
			if in.Records.Kept, err = in.Records.Kept.Without(gone); err != nil {
				return in, err
			}
		}
	} else {
		done = survey.SettleAbsences(in.Records.Listed, worked, o)
		in.Records.Listed = done.Records
	}
	in.Findings = check.Join(in.Findings, done.Findings)
	in.Files = slices.Clone(in.Files)
	in.SetAside(done.Aside)
	return in, nil
}

// absences returns how finds are compared with absences, and what says whether work lies between.
func (in Quarter) absences(known []lineage.Known, s settings.Settings) (survey.Worked, survey.Options) {
	o := survey.DefaultOptions(in.Quarter)
	o.JoinDistance = geo.Meters(s.Stands.JoinDistance)
	return newWorkplaces(in, known, o.JoinDistance).worked, o
}

// workplaces says where and when control work was done.
type workplaces struct {
	in     Quarter
	join   geo.Meters
	placed *earth.Grid
	drawn  []*treatment.Treatment // those with a drawn area
	stands []workedStand
}

// workedStand is a known stand that work names.
type workedStand struct {
	stand.Ground
	days []survey.Day
}

func newWorkplaces(in Quarter, known []lineage.Known, join geo.Meters) *workplaces {
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
			w.stands = append(w.stands, workedStand{stand.GroundOf(known[k].Footprint, known[k].Center), days})
		}
	}
	return w
}

// worked says whether work was done, between two days, within the join distance of a find, or on a
// stand whose footprint comes that near.
func (w *workplaces) worked(find *survey.Record, from, to survey.Day) bool {
	during := func(day survey.Day) bool { return from <= day && day <= to }
	found := false
	w.placed.Near(find.Position, func(i int32) bool {
		a := &w.in.Actions[i]
		found = during(survey.DayOf(a.Date)) && earth.Distance(a.Position, find.Position) <= w.join
		return !found
	})
	if found || slices.ContainsFunc(w.drawn, func(a *treatment.Treatment) bool {
		return during(survey.DayOf(a.Date)) && stand.NearArea(a.Ground, a.Position, find.Position, w.join)
	}) {
		return true
	}
	return slices.ContainsFunc(w.stands, func(s workedStand) bool {
		return slices.ContainsFunc(s.days, during) && s.Near(find.Position, w.join)
	})
}
