package report

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// The sentences of a plan, written out by hand.
func TestPlanInWords(t *testing.T) {
	q := survey.Quarter{Year: 2026, Number: 4}
	stands := make([]result.Stand, 3)
	for i, id := range []string{"S1", "S2", "S3"} {
		stands[i].Stand = stand.Stand{ID: id}
	}
	c := composer{run: &result.Run{Stands: stands, Plan: &plan.Plan{
		Unit: "hours", Budget: 40,
		Rows:     []plan.Row{{Stand: 0, Kind: plan.FollowUp, Quarter: q}, {Stand: 1, Quarter: q}, {Stand: 2, Quarter: q.Next()}},
		Quarters: []plan.Quarter{{Quarter: q, FollowUp: 2.5, PutOff: 1, First: 30, Free: 37.5, Exposure: 2, Bound: 2.01, All: 8}, {Quarter: q.Next(), First: 12}},
		Curve:    []plan.Point{{Money: 37.5, Exposure: 2}, {Money: 56.25, Exposure: 4}},
		Next:     &plan.Next{Stand: 2, With: 1, More: 4.5, Exposure: 3},
		Held:     []plan.Held{{Stand: 2}},
	}}}
	want := []string{
		"The budget for 2026Q4 is 40.00 hours: 2.50 for 1 follow-up visit (1 more put off), and 30.00 for the first treatment of S2. That takes away 25.0 % of the exposure of all stands that wait and may be treated then, within 0.5 % of the best possible.",
		"With 56.25 instead of 37.50 for first treatments it would be 50.0 %; S3 is next in line, for 4.50 hours more, together with 1 above it.",
		"Later quarters, with the follow-up that will be due then: 2027Q1 12.00 hours. plan.csv has every piece of work in order. 1 stand cannot be treated now: plan_held.csv says why, and how much floats off in the meantime.",
	}
	if diff := cmp.Diff(want, c.plan()); diff != "" {
		t.Errorf("plan (-want +got):\n%s", diff)
	}
	// A visit costs a share of the first treatment: its cost is not the ground that is visited.
	if got, want := c.plannedWords(&c.run.Plan.Quarters[0]), "Planned for 2026Q4 within the budget: 1 follow-up visit for 2.50 hours, 1 first treatment for 30.00 hours."; got != want {
		t.Errorf("at a glance: %q, want %q", got, want)
	}
	c.run.Plan.Valued = true
	if got := c.plan()[0]; !strings.HasSuffix(got, "within 0.5 % of the best possible. Exposure counts only where fragments float past the places of --values.") {
		t.Errorf("with valued places: %q", got)
	}
	c.run.Plan.Quarters[0].All = 0
	if got := c.plan()[0]; !strings.HasSuffix(got, "for the first treatment of S2. Exposure counts only where fragments float past the places of --values.") {
		t.Errorf("where no stand reaches them: %q", got)
	}
	c.run.Plan.Quarters[0].All, c.run.Plan.Valued = 8, false
	c.run.Plan.TooMany, c.run.Plan.Curve, c.run.Plan.Next = 6000, nil, nil
	if got := c.plan(); len(got) != 3 || got[1] != "There are 6\u202f000 pieces of work to choose from. That is too many to work out what more money buys (plan_curve.csv) and in how many draws each is chosen (chosen_percent)." {
		t.Errorf("of many stands: %q", got)
	}
	c.run.Plan = nil
	if got := c.plan(); len(got) != 1 {
		t.Errorf("without a budget: %q", got)
	}
}
