package followup

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/treatment"
)

// Schedule returns the follow-up of every known stand: first due first, then those without a due day in
// treatment order, then by id. It also returns, for each action, the sorted ids of the stands it
// was done on, and the findings about the work. The result depends on the sets of stands and work,
// not on their order. A row of the last batch is kept unchanged if neither its stand nor any stand
// that comes from it is among the subjects. It sorts the subjects. n log n, plus a search of the stands' outlines near
// work that names no stand.
func Schedule(site Site) ([]Row, [][]string, []check.Finding) {
	slices.SortFunc(site.Subjects, func(a, b Subject) int { return strings.Compare(a.ID, b.ID) })
	site.rows = make(map[string]*Row, len(site.Before))
	for i := range site.Before {
		site.rows[site.Before[i].StandID] = &site.Before[i]
	}
	m := newMatcher(&site)
	work, done := m.match()
	told := m.told()
	living := make(map[string]bool, len(site.Subjects))
	for i := range site.Subjects {
		living[site.Subjects[i].ID] = true
	}
	continued := map[string]bool{}
	rows := make([]Row, 0, len(site.Subjects))
	for i := range site.Subjects {
		sub := &site.Subjects[i]
		for _, id := range sub.Earlier {
			continued[id] = true
		}
		l := look{settings: site.Settings, quarter: site.Quarter, subject: sub, before: site.history(sub, living)}
		rows = append(rows, l.after(site.actions(work[i]), told[i]))
	}
	for i := range site.Before {
		if r := site.Before[i]; !living[r.StandID] && !continued[r.StandID] {
			r.Present, r.Look, r.Order, r.Lost = false, Nobody, 0, 0
			rows = append(rows, r)
		}
	}
	slices.SortFunc(rows, byDue)
	return rows, done, m.log.Findings()
}

// actions returns the work at the given indices, sorted by day and content.
func (s *Site) actions(at []int32) []treatment.Treatment {
	out := make([]treatment.Treatment, len(at))
	for k, i := range at {
		out[k] = s.Actions[i]
	}
	slices.SortStableFunc(out, func(a, b treatment.Treatment) int {
		return cmp.Or(a.Date.Compare(b.Date), strings.Compare(a.Method, b.Method), strings.Compare(a.FormulationClass, b.FormulationClass))
	})
	return out
}

// history joins the rows of the stands from which a stand comes.
func (s *Site) history(sub *Subject, living map[string]bool) Row {
	var joint Row
	var names []string
	ids := slices.Sorted(slices.Values(sub.Earlier))
	for k, id := range slices.Compact(ids) {
		r := s.before(id)
		names = append(append(names, id), r.Earlier...)
		if k == 0 {
			joint = *r
			continue
		}
		joint.join(r)
	}
	slices.Sort(names)
	names = slices.DeleteFunc(slices.Compact(names), func(id string) bool { return living[id] })
	joint.Earlier = names
	return joint
}

// join takes over the history of another stand that grew into this one.
func (r *Row) join(o *Row) {
	days := max(r.Work.Days, o.Work.Days)
	if o.Work.Last.After(r.Work.Last) {
		r.Work = o.Work
	}
	r.Work.Days = days
	r.LastSeen, r.LastLook = latest(r.LastSeen, o.LastSeen), latest(r.LastLook, o.LastLook)
	if o.Clear.Years > r.Clear.Years {
		r.Clear = o.Clear
	}
	switch {
	case o.State != TreatAgain:
	case r.State != TreatAgain || o.Due.Before(r.Due):
		r.State, r.Due, r.Again = TreatAgain, o.Due, o.Again
	}
}

// byDue orders rows: first due first, then those without a due day by treatment order, then by id.
func byDue(a, b Row) int {
	return cmp.Or(
		last(a.Due.IsZero(), b.Due.IsZero()), a.Due.Compare(b.Due),
		last(a.Order == 0, b.Order == 0), cmp.Compare(a.Order, b.Order),
		strings.Compare(a.StandID, b.StandID),
	)
}

// last orders false before true.
func last(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}
