package report

import (
	"fmt"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/result"
	"driftreach/internal/treatment"
)

// done describes the control work of the quarter in a few sentences: all acres, by method and by class
// of formulation, and what is missing in these figures.
func (c *composer) done() []string {
	if !c.run.WorkGiven {
		return []string{"No control work was given (--treatments), so the acres treated are not known."}
	}
	s := c.summary
	jobs, silent := s.cell(total, field.WorkDoneJobs).Int, s.cell(total, field.WorkDoneJobsAcresUnknown).Int
	if jobs == 0 {
		return []string{"None of the control work given is dated in this quarter."}
	}
	lines := []string{fmt.Sprintf("%s acres were treated, in %s of work. These are acres of work as entered, not the infested acres of treated stands.",
		s.number(total, field.WorkDoneAcres).Shown, plural(int(jobs), "row"))}
	if silent > 0 {
		lines[0] += fmt.Sprintf(" Not counted: %s without acres.", plural(int(silent), "row"))
	}
	if split := c.doneBy(); split != "" {
		lines = append(lines, split)
	}
	if rows := c.scoped(result.NoStand); len(rows) > 0 {
		lines = append(lines, fmt.Sprintf("Of these, %s acres were not on a known stand.", s.number(rows[0], field.WorkDoneAcres).Shown))
	}
	return append(lines, "summary.csv has these acres by stream and unit, work_done.csv row by row, products_used.csv by month and product.")
}

// doneBy lists the acres of each method and class with any.
func (c *composer) doneBy() string {
	acres := func(of []treatment.Split) string {
		var told []string
		for _, split := range of {
			if c.summary.cell(total, split.Acres()).Int > 0 {
				told = append(told, split.Label()+" "+c.summary.number(total, split.Acres()).Shown)
			}
		}
		return strings.Join(told, ", ")
	}
	methods := acres(treatment.ByMethod[:])
	if methods == "" {
		return ""
	}
	return "By method, acres: " + methods + ". By class of formulation: " + acres(treatment.ByClass[:]) + "."
}
