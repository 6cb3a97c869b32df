package batch

import (
	"fmt"
	"slices"

	"driftreach/internal/check"
	"driftreach/internal/folder"
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// mostNamed is how many stands a finding names. Our choice: the rest is in lineage.csv.
const mostNamed = 5

// tellStatuses reports stands that were treated or standing dead in the last batch and are live now,
// where no record of this quarter has a status: the crews may have written none down.
func (c *computation) tellStatuses() error {
	for i := range c.in.Records.Len() {
		own := c.run.CarriedFrom == nil || c.run.CarriedFrom[i].IsZero()
		if own && c.in.Records.At(i).Status != survey.Untreated {
			return nil
		}
	}
	var live []string
	for k := range c.in.Previous.Known {
		known := &c.in.Previous.Known[k]
		home := c.run.Previous.Home[k]
		wasDead := known.Status == survey.Treated || known.Status == survey.StandingDead
		if wasDead && !known.Absent && home >= 0 && c.run.Stands[home].Status == survey.Untreated {
			live = append(live, known.ID)
		}
	}
	if len(live) == 0 {
		return nil
	}
	slices.Sort(live)
	c.report(check.Finding{
		Rule: lineage.RuleStatuses(), File: folder.ManifestName, Field: "management_status",
		Message: fmt.Sprintf("no record of this quarter is treated, resprout or standing_dead; stands that were treated or standing dead in %s and count as live and untreated now: %d (%s)",
			c.in.Previous.Quarter, len(live), check.FirstOf(live, mostNamed, ", ")),
	})
	return nil
}
