package main

import (
	"fmt"
	"strings"

	"driftreach/internal/plan"
	"driftreach/internal/result"
)

// planRows shows what is planned for the next quarter, and in one line what is planned for the quarters
// after it.
func planRows(run *result.Run, row func(name, value, note string)) {
	if run.Plan == nil || len(run.Plan.Quarters) == 0 {
		return
	}
	first := &run.Plan.Quarters[0]
	stands, visits := 0, 0
	for i := range run.Plan.Rows {
		switch r := &run.Plan.Rows[i]; {
		case r.Quarter != first.Quarter:
		case r.Kind == plan.First:
			stands++
		default:
			visits++
		}
	}
	row("plan, "+first.Quarter.String(), run.Plan.Text(first.FollowUp+first.First)+" "+run.Plan.Unit,
		fmt.Sprintf("of %s: %s, %s; %s", run.Plan.Text(run.Plan.Budget), plural(visits, "follow-up"), plural(stands, "first treatment"), first.GapWords()))
	if run.Plan.Valued {
		row("", "", "exposure counts only where fragments float past the places of --values")
	}
	var later []string
	for i := range run.Plan.Quarters[1:] {
		q := &run.Plan.Quarters[i+1]
		later = append(later, fmt.Sprintf("%s %s", q.Quarter, run.Plan.Text(q.FollowUp+q.First)))
	}
	if later != nil {
		row("", "", "then "+strings.Join(later, ", ")+"; every piece of work is in plan.csv")
	}
}
