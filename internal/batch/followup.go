package batch

import (
	"driftreach/internal/check"
	"driftreach/internal/followup"
	"driftreach/internal/result"
	"driftreach/internal/stream"
)

// followUp says when each stand known is to be looked at next.
func (c *computation) followUp() error {
	site := followup.Site{Quarter: c.in.Quarter, Actions: c.in.Actions, Settings: c.rules.followup}
	for i := range c.run.Stands {
		site.Subjects = append(site.Subjects, c.subject(&c.run.Stands[i]))
	}
	rows, findings := followup.Plan(site)
	at := make(map[string]int32, len(c.run.Stands))
	for i := range c.run.Stands {
		at[c.run.Stands[i].ID] = int32(i)
	}
	c.run.FollowUp = c.rules.followup
	c.run.Visits = make([]result.Visit, len(rows))
	for k := range rows {
		v := result.Visit{Row: rows[k], Stand: -1}
		if i, there := at[v.StandID]; there {
			v.Stand = i
			c.run.Stands[i].NextVisit, c.run.Stands[i].FollowUp = v.Due, v.What(c.rules.followup)
		}
		c.run.Visits[k] = v
	}
	c.run.Findings = append(c.run.Findings, findings...)
	check.Sort(c.run.Findings)
	return nil
}

// subject is one stand of the map as follow-up sees it.
func (c *computation) subject(s *result.Stand) followup.Subject {
	var line stream.Centerline
	if i := s.Zone.Line; i >= 0 {
		line = c.in.Centerlines[i]
	}
	return followup.Subject{
		ID: s.ID, Present: true, Look: followup.Found, Day: s.Last, Status: s.Status, Footprint: &s.Footprint, Order: s.Plan.Order,
		Place: followup.Place{
			Position: s.Center, StreamID: line.ID, WaterBody: line.Name, RiverKm: s.Drift.RiverKm, Parcel: c.parcel(s.Members),
		},
	}
}

// parcel returns the parcel of the first record that names one.
func (c *computation) parcel(members []int32) string {
	for _, m := range members {
		if p := c.in.Records[m].Parcel; p != "" {
			return p
		}
	}
	return ""
}
