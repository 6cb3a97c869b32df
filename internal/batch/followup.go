package batch

import (
	"strings"
	"time"

	"driftreach/internal/followup"
	"driftreach/internal/result"
	"driftreach/internal/stream"
)

// followUp finds when each known stand is due for its next visit.
func (c *computation) followUp() error {
	site := followup.Site{Quarter: c.in.Quarter, Actions: c.in.Actions, Told: c.told(), Settings: c.rules.Followup}
	for i := range c.run.Stands {
		site.Subjects = append(site.Subjects, c.subject(&c.run.Stands[i]))
	}
	if before := c.in.Previous; before != nil {
		site.Before, site.Since, c.run.Events = before.Followup, before.Quarter.End(), before.Events
		site.Subjects = append(site.Subjects, c.absentSubjects()...)
	}
	rows, done, findings := followup.Schedule(site)
	at := make(map[string]int32, len(c.run.Stands))
	for i := range c.run.Stands {
		at[c.run.Stands[i].ID] = int32(i)
	}
	c.run.FollowUp = c.rules.Followup
	c.run.Visits = make([]result.Visit, len(rows))
	for k := range rows {
		v := result.Visit{Row: &rows[k], Stand: -1}
		if i, there := at[v.StandID]; there {
			v.Stand = i
			c.run.Stands[i].NextVisit, c.run.Stands[i].FollowUp = v.Next(), v.What(c.rules.Followup)
		}
		c.run.Visits[k] = v
	}
	c.addTreatments(done, at)
	c.report(findings...)
	return nil
}

// absentSubjects are the stands that were once mapped and have not been found since.
func (c *computation) absentSubjects() []followup.Subject {
	before := c.in.Previous
	days := make(map[string]time.Time, len(before.Known))
	for k := range before.Known {
		days[before.Known[k].ID] = c.run.Previous.Looks[k].Day
	}
	parcels := make(map[string]string, len(before.Followup))
	for i := range before.Followup {
		parcels[before.Followup[i].StandID] = before.Followup[i].Place.Parcel
	}
	out := make([]followup.Subject, len(c.run.Absent))
	for i := range c.run.Absent {
		a := &c.run.Absent[i]
		out[i] = followup.Subject{
			ID: a.ID, Earlier: append([]string{a.ID}, a.Same...), Look: followup.Nobody, Footprint: &a.Footprint,
			Place: followup.Place{
				Position: a.Place(), StreamID: a.StreamID, WaterBody: a.WaterBody, RiverKm: a.RiverKm, Parcel: parcels[a.ID],
			},
		}
		if a.Looked {
			out[i].Look, out[i].Day = followup.NotFound, days[a.ID]
		}
	}
	return out
}

// subject is one mapped stand as input for follow-up.
func (c *computation) subject(s *result.Stand) followup.Subject {
	var line stream.Centerline
	if i := s.Zone.Line; i >= 0 {
		line = c.net.Line(i)
	}
	sub := followup.Subject{
		ID: s.ID, Earlier: c.run.EarlierIDs(s), Present: true, Look: followup.Found, Day: s.Last, Status: s.Status,
		Footprint: &s.Footprint, Order: s.Advice.Order, Acres: float64(s.Infested.Acres()),
		Place: followup.Place{
			Position: s.Place(), StreamID: line.ID, WaterBody: line.Name, RiverKm: s.Drift.RiverKm, Parcel: c.parcel(s.Members),
		},
	}
	if s.Carried() {
		sub.Look = followup.Nobody
	}
	return sub
}

// parcel returns the parcel of the first record that has one.
func (c *computation) parcel(members []int32) string {
	for _, m := range members {
		if p := c.in.Records.At(int(m)).Parcel(); p != "" {
			return strings.Clone(p) // not the other texts of the record
		}
	}
	return ""
}
