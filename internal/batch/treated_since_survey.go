package batch

import (
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/priority"
	"driftreach/internal/survey"
)

// worked finds, for each stand that needs treatment, the part that control work has treated since its
// survey. The order and the plan then use only the rest. The treated part is due for a visit, as
// package followup says.
func (c *computation) worked() []followup.Part {
	done := make([]followup.Part, len(c.stands))
	told := c.told()
	if len(c.in.Actions) == 0 && len(told) == 0 {
		return done
	}
	site := followup.Site{Quarter: c.in.Quarter, Actions: c.in.Actions, Told: told, Settings: c.rules.Followup}
	at := make(map[string]int, len(c.stands))
	for i := range c.stands {
		at[c.stands[i].ID] = i
		site.Subjects = append(site.Subjects, c.plainSubject(int32(i)))
	}
	if before := c.in.Previous; before != nil {
		site.Before, site.Since = before.Followup, before.Quarter.End()
		site.Subjects = append(site.Subjects, c.goneSubjects()...)
	}
	rows, _, _ := followup.Schedule(site) // its findings are reported later, when visits are planned
	for k := range rows {
		if i, there := at[rows[k].StandID]; there && priority.Asked(c.stands[i].Status) {
			done[i] = rows[k].Done
		}
	}
	return done
}

// told returns the work that was input to earlier batches of the chain and is not in this quarter's
// input.
func (c *computation) told() []followup.Told {
	if c.in.Previous == nil || len(c.in.Previous.Treatments) == 0 {
		return nil
	}
	given := make(map[string]bool, len(c.in.Actions))
	for k := range c.in.Actions {
		given[jobKey(&c.in.Actions[k])] = true
	}
	var out []followup.Told
	for i := range c.in.Previous.Treatments {
		if j := &c.in.Previous.Treatments[i]; !given[j.Key] && len(j.Told.Stands) > 0 {
			out = append(out, followup.Told{Treatment: j.Treatment, Stands: j.Told.Stands})
		}
	}
	return out
}

// plainSubject is a stand with only what is needed to match work to it.
func (c *computation) plainSubject(i int32) followup.Subject {
	s := &c.stands[i]
	sub := followup.Subject{
		ID: s.ID, Present: true, Look: followup.Found, Day: s.Last, Status: s.Status, Footprint: &s.Footprint,
		Acres: float64(s.Infested.Acres()), Place: followup.Place{Position: s.Place()},
	}
	if c.ancestry != nil {
		for _, k := range c.ancestry[i].parents {
			known := &c.in.Previous.Known[k]
			sub.Earlier = append(append(sub.Earlier, known.ID), known.Same...)
		}
		if !c.ancestry[i].from.IsZero() {
			sub.Look = followup.Nobody
		}
	}
	return sub
}

// goneSubjects are the stands once mapped and no longer on the map. Work near them is matched to them.
func (c *computation) goneSubjects() []followup.Subject {
	var out []followup.Subject
	for k, fate := range c.lineage.Fates {
		known := &c.in.Previous.Known[k]
		if fate == "" || known.Out != "" || fate == lineage.NotResurveyed && !known.Absent {
			continue
		}
		out = append(out, followup.Subject{
			ID: known.ID, Earlier: []string{known.ID}, Look: followup.Nobody, Footprint: &known.Footprint,
			Place: followup.Place{Position: known.Place()},
		})
	}
	return out
}

// asked says whether stand i needs treatment now, as a whole or in part.
func (c *computation) asked(i int32) bool {
	return priority.Asked(c.stands[i].Status) && c.done[i].Share < 1
}

// planned is the status that the plan uses for a stand: it is treated if it was treated since its
// survey.
func (c *computation) planned(i int32) survey.Status {
	if c.done[i].Share == 1 {
		return survey.Treated
	}
	return c.stands[i].Status
}
