package result

import (
	"math"
	"strings"
	"testing"

	"driftreach/internal/plan"
)

// TestAcresHaveTheirDecimals: in every table of a batch of small plants all acres have the decimals of
// the batch, and all other numbers those of their unit. A budget in acres is counted like them. What a
// stand added to the changes is written exactly, in grains.
func TestAcresHaveTheirDecimals(t *testing.T) {
	for _, decimals := range []uint8{4, 7} {
		run := programme()
		run.AcreDecimals, run.Plan.Unit = decimals, string(Acres)
		run.LookChanges = LookChanges(run, nil)
		seen := 0
		for _, table := range Tables(run) {
			for k, f := range table.Fields {
				want := f.Unit.Decimals()
				if f.Unit == Acres || f.Unit == Money {
					want = decimals
				}
				if table.Name == "stand_changes" || table.Name == "taken_back" {
					want = 10 // exact, since quarters later they are taken back
				}
				for i := range table.Rows {
					if v := table.Cell(run, i, k); v.Kind == Number && v.Decimals != want {
						t.Errorf("%s.%s, row %d: %d decimals, want %d", table.Name, f.Name, i, v.Decimals, want)
					} else if v.Kind == Number {
						seen++
					}
				}
			}
		}
		if seen < 600 {
			t.Errorf("%d numbers were held", seen)
		}
	}
}

// TestPlanOfSmallPlants: a piece of work on 0.2 m2 is 0.0000494211 acres, printed with seven decimals
// in a batch of small plants: 0.0000494, and so is its cost in acres; with four it would be nothing. A
// cost in hours has four decimals, and so has a budget of acres that has no room for seven.
func TestPlanOfSmallPlants(t *testing.T) {
	row := func(run *Run, table Table, name string) string {
		for k, f := range table.Fields {
			if f.Name == name {
				return table.Cell(run, 0, k).String()
			}
		}
		return "no field"
	}
	const small = 0.2 / acre
	run := &Run{AcreDecimals: 7, Quarter: q3, Stands: make([]Stand, 1), Plan: &plan.Plan{
		Unit: "acres", Budget: 2 * small, Rows: []plan.Row{{Acres: small, Cost: small, Running: small, Quarter: q3.Next()}},
		Quarters: []plan.Quarter{{Quarter: q3.Next(), FollowUp: small, First: 2 * small, Free: 3 * small}}, Curve: []plan.Point{{Money: small}},
	}}
	for _, c := range []struct{ unit, acres, cost, twice, thrice string }{{"acres", "0.0000494", "0.0000494", "0.0000988", "0.0001483"}, {"hours", "0.0000494", "0", "0.0001", "0.0001"}} {
		run.Plan.Unit = c.unit
		got := []string{
			row(run, PlanTable(run), "acres"), row(run, PlanTable(run), "cost"), row(run, PlanTable(run), "running_cost"), row(run, PlanQuarterTable(run), "follow_up_cost"),
			row(run, PlanCurveTable(run), "money"), row(run, PlanQuarterTable(run), "first_cost"), row(run, PlanQuarterTable(run), "budget"), row(run, PlanQuarterTable(run), "first_cost_most"),
		}
		want := strings.Join([]string{c.acres, c.cost, c.cost, c.cost, c.cost, c.twice, c.twice, c.thrice}, " ")
		if said := strings.Join(got, " "); said != want {
			t.Errorf("in %s: %s, want %s", c.unit, said, want)
		}
	}
	run.Plan.Unit, run.Plan.Budget = "acres", 1e9
	if got := row(run, PlanQuarterTable(run), "budget"); got != "1000000000" {
		t.Errorf("a budget of 1e9 acres is %s", got)
	}
	run.Plan.Budget = plan.Cost(math.Inf(1))
	if got := row(run, PlanQuarterTable(run), "budget"); got != "" {
		t.Errorf("a budget without end is %s", got)
	}
}
