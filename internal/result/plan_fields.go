package result

import (
	"fmt"

	"driftreach/internal/field"
	"driftreach/internal/plan"
)

// planOf returns the plan of a run, or an empty one.
func planOf(r *Run) *plan.Plan {
	if r.Plan == nil {
		return &plan.Plan{}
	}
	return r.Plan
}

// PlanTable returns the table of planned work, one row for each piece of work, in the order of the
// work.
func PlanTable(run *Run) Table {
	return Table{
		Name: "plan", Title: "One row for each piece of work planned, by quarter and place in it",
		Fields: append(append(append(planWhat(), planWhere()...), planMoney()...), cautionsField(func(r *Run, i int) int32 { return r.Plan.Rows[i].Stand })), Rows: len(planOf(run).Rows),
	}
}

// standPlanned are the fields for when a stand is planned, if there is a plan.
func standPlanned(run *Run) []Field {
	if run.Plan == nil {
		return nil
	}
	first := func(r *Run, i int) *plan.Row {
		if i >= len(r.Plan.RowOf) || r.Plan.RowOf[i] < 0 {
			return nil
		}
		return &r.Plan.Rows[r.Plan.RowOf[i]]
	}
	return []Field{
		{field.PlanQuarter, "Planned quarter", NoUnit, Text, "First quarter of the plan that has work on it, follow-up or first treatment; blank for none.", "",
			func(r *Run, i int) Value {
				if row := first(r, i); row != nil {
					return text(row.Quarter.String())
				}
				return Value{}
			}},
		{"plan_work", "Planned work", NoUnit, Text, "What is planned for it then, with its place in that quarter, as in first_treatment, place 3.", "",
			func(r *Run, i int) Value {
				if row := first(r, i); row != nil {
					return text(fmt.Sprintf("%s, place %d", row.Kind, row.Place))
				}
				return Value{}
			}},
	}
}

func planWhat() []Field {
	of := func(r *Run, i int) *plan.Row { return &r.Plan.Rows[i] }
	return []Field{
		{field.StandID, "Stand", NoUnit, Text, "Identity of the stand.", "",
			func(r *Run, i int) Value { return text(r.standID(of(r, i).Stand)) }},
		{field.PlanQuarter, "Planned quarter", NoUnit, Text, "Calendar quarter it is planned for; the first is the one after the batch's.", "",
			func(r *Run, i int) Value { return text(of(r, i).Quarter.String()) }},
		{field.Place, "Place", NoUnit, Count, "Place in that quarter, 1 first: follow-up by the day it is due, then first treatments upstream first.", "upstream first [C]",
			func(r *Run, i int) Value { return count(of(r, i).Place) }},
		{field.Work, "Work", NoUnit, Text, "follow_up: look again at what was treated and treat what grows. first_treatment: of the stand or of a block of it.", "",
			func(r *Run, i int) Value { return text(of(r, i).Kind.String()) }},
		{"block", "Block", NoUnit, Text, "Which block of a large stand, from the top down, as in 2 of 5; blank for the whole stand.", "largest block assumed [A]",
			func(r *Run, i int) Value { return text(blockWords(of(r, i))) }},
		{field.Why, "Why now", NoUnit, Text, "Why it is planned for this quarter, in one sentence.", "",
			func(r *Run, i int) Value { return text(of(r, i).Why) }},
		{field.Due, "Due", NoUnit, Date, "Day on which follow-up is due; blank for first treatments, and for follow-up of work that this plan proposes.", "interval and season assumed [A]",
			func(r *Run, i int) Value { return day(of(r, i).Due) }},
		{"treat_from", "From", NoUnit, Date, "First day of the quarter on which --treatable lets it be treated; the quarter's first day where it says nothing.", "",
			func(r *Run, i int) Value { return day(of(r, i).From) }},
		{"treat_to", "To", NoUnit, Date, "Last day on which it may be treated.", "",
			func(r *Run, i int) Value { return day(of(r, i).To) }},
	}
}

// blockWords names the block of a row; blank for a whole stand.
func blockWords(r *plan.Row) string {
	if r.Blocks < 2 {
		return ""
	}
	return fmt.Sprintf("%d of %d", r.Block, r.Blocks)
}

func planWhere() []Field {
	of := func(r *Run, i int) *plan.Row { return &r.Plan.Rows[i] }
	at := func(r *Run, i int) *Stand { return &r.Stands[of(r, i).Stand] }
	return []Field{
		{"site", "Site", NoUnit, Count, "Number of its site. Stands of one site share the cost of the set-up, once a quarter.", "distance assumed [A]",
			func(r *Run, i int) Value { return count(int(of(r, i).Site)) }},
		{field.WaterBody, "Stream", NoUnit, Text, "Name of the nearest stream; blank when it has none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.Line(at(r, i).Zone.Line).Name) }},
		{field.RiverKm, "River km", Kilometers, Number, "Distance of the stand along the main path to the outlet; blank without streams.", "",
			func(r *Run, i int) Value { return number(at(r, i).Drift.RiverKm, Kilometers) }},
		{field.DecimalLongitude, "Longitude", Degrees, Number, "Longitude of a place to go to, inside what is to be treated or looked at.", "Darwin Core [P]",
			func(r *Run, i int) Value { return number(of(r, i).At[0], Degrees) }},
		{field.DecimalLatitude, "Latitude", Degrees, Number, "Latitude of that place.", "Darwin Core [P]",
			func(r *Run, i int) Value { return number(of(r, i).At[1], Degrees) }},
	}
}

// money returns an amount in the unit of the budget. Where that is acres it has as many decimals as the
// batch's acres, unless it is too large for these.
func (r *Run) money(x plan.Cost) Value {
	if Unit(r.Plan.Unit) == Acres {
		if v := OfDecimals(float64(x), r.acreDecimals()); v.Kind != Null {
			return v
		}
	}
	return number(x, Money)
}

func planMoney() []Field {
	of := func(r *Run, i int) *plan.Row { return &r.Plan.Rows[i] }
	return []Field{
		{field.Acres, "Acres", Acres, Number, "Acres to treat; for follow-up, the acres that were treated.", "",
			func(r *Run, i int) Value { return OfDecimals(float64(of(r, i).Acres), r.acreDecimals()) }},
		{field.Cost, "Cost", Money, Number, "Cost in the unit of the budget. The first stand of a site in a quarter carries the cost of the set-up. Follow-up costs a share of the first treatment.", "Arundo: A Landowner Handbook, comparison of treatment methods, page 1 [P]",
			func(r *Run, i int) Value { return r.money(of(r, i).Cost) }},
		{field.RunningCost, "Running cost", Money, Number, "Costs of the quarter down to this row.", "",
			func(r *Run, i int) Value { return r.money(of(r, i).Running) }},
		{field.ExposureRemoved, "Exposure taken away", IndexKm, Number, "Exposure taken away over the planned quarters from this one on. With the defaults and one quarter it is the exposure of order.csv. For follow-up, the exposure of plants that are known to grow again.", "relative index [A]",
			func(r *Run, i int) Value { return number(of(r, i).Exposure, IndexKm) }},
		{"chosen_percent", "Chosen in", Percent, Number, "Share of the draws of the drift in which it is in the first quarter's best set; blank for follow-up, later quarters, without draws, and where there are more than 5000 pieces of work to choose from.", "spreads assumed [A]",
			func(r *Run, i int) Value {
				if n := r.Plan.Draws; n > 0 && of(r, i).Draws >= 0 {
					return number(100*float64(of(r, i).Draws)/float64(n), Percent)
				}
				return Value{}
			}},
	}
}

// PlanQuarterTable returns the table of totals for each planned quarter.
func PlanQuarterTable(run *Run) Table {
	of := func(r *Run, i int) *plan.Quarter { return &r.Plan.Quarters[i] }
	return Table{
		Name: "plan_quarters", Title: "One row for each planned quarter, with how near its first treatments are to the best possible", Rows: len(planOf(run).Quarters),
		Fields: []Field{
			{field.PlanQuarter, "Planned quarter", NoUnit, Text, "Calendar quarter.", "",
				func(r *Run, i int) Value { return text(of(r, i).Quarter.String()) }},
			{"budget", "Budget", Money, Number, "Budget of the quarter.", "as set",
				func(r *Run, _ int) Value { return r.money(r.Plan.Budget) }},
			{"budget_unit", "Unit of the budget", NoUnit, Text, "What budget and costs are counted in.", "as set",
				func(r *Run, _ int) Value { return text(r.Plan.Unit) }},
			{"follow_up_cost", "Follow-up", Money, Number, "Cost of the follow-up planned.", "shares of labour [P]",
				func(r *Run, i int) Value { return r.money(of(r, i).FollowUp) }},
			{"follow_up_put_off", "Follow-up put off", NoUnit, Count, "Visits due by the end of the quarter that the budget does not cover, or that are not allowed in it.", "",
				func(r *Run, i int) Value { return count(of(r, i).PutOff) }},
			{"first_cost", "First treatments", Money, Number, "Cost of the first treatments planned.", "",
				func(r *Run, i int) Value { return r.money(of(r, i).First) }},
			{"first_cost_most", "First treatments at most", Money, Number, "The most they could cost: what follow-up leaves of this budget, and of the budgets of the coming years for their own follow-up.", "",
				func(r *Run, i int) Value { return r.money(of(r, i).Free) }},
			{field.ExposureRemoved, "Exposure taken away", IndexKm, Number, "By first treatments, over the planned quarters from this one on.", "relative index [A]",
				func(r *Run, i int) Value { return number(of(r, i).Exposure, IndexKm) }},
			{"exposure_bound", "Bound", IndexKm, Number, "Upper bound: no set of stands within the rules and the budget takes away more.", "knapsack under precedence [P]",
				func(r *Run, i int) Value { return number(of(r, i).Bound, IndexKm) }},
			{"exposure_waiting", "Exposure of all that waits", IndexKm, Number, "Exposure that would go away if all stands that wait, and may be treated in the quarter, were treated.", "",
				func(r *Run, i int) Value { return number(of(r, i).All, IndexKm) }},
			{"how_good", "How good", NoUnit, Text, "How near the first treatments are to the best possible, in words.", "",
				func(r *Run, i int) Value { return text(of(r, i).GapWords()) }},
		},
	}
}

// PlanHeldTable returns the table of stands that cannot be treated in the first planned quarter, one
// row for each.
func PlanHeldTable(run *Run) Table {
	of := func(r *Run, i int) *plan.Held { return &r.Plan.Held[i] }
	return Table{
		Name: "plan_held", Title: "One row for each stand that asks for treatment and cannot be treated in the first planned quarter", Rows: len(planOf(run).Held),
		Fields: []Field{
			{field.StandID, "Stand", NoUnit, Text, "Identity of the stand.", "",
				func(r *Run, i int) Value { return text(r.standID(of(r, i).Stand)) }},
			{field.Why, "Why not", NoUnit, Text, "Why it cannot be treated now.", "",
				func(r *Run, i int) Value { return text(of(r, i).Why) }},
			{"open_from", "Open from", NoUnit, Text, "First planned quarter in which it can be treated; blank when none of them.", "",
				func(r *Run, i int) Value { return quarterText(of(r, i).Until) }},
			{"keeps_seeding", "Keeps seeding", NoUnit, List, "Stands that its fragments reach.", "",
				func(r *Run, i int) Value {
					var ids []string
					for _, s := range of(r, i).Seeds {
						ids = append(ids, r.standID(s))
					}
					return list(ids)
				}},
			{field.Exposure, "Exposure that stays", IndexKm, Number, "Exposure for each quarter of the part that waits.", "relative index [A]",
				func(r *Run, i int) Value { return number(of(r, i).Leaves, IndexKm) }},
		},
	}
}

// PlanCurveTable returns the table of what a larger or smaller budget would remove in the first planned
// quarter.
func PlanCurveTable(run *Run) Table {
	of := func(r *Run, i int) *plan.Point { return &r.Plan.Curve[i] }
	return Table{
		Name: "plan_curve", Title: "One row for each budget tried, with what first treatments for it take away in the first planned quarter; no rows where there are more than 5000 pieces of work to choose from", Rows: len(planOf(run).Curve),
		Fields: []Field{
			{"money", "Money", Money, Number, "For first treatments, in the unit of the budget.", "",
				func(r *Run, i int) Value { return r.money(of(r, i).Money) }},
			{field.ExposureRemoved, "Exposure taken away", IndexKm, Number, "By the best set found for it; never less for more money.", "relative index [A]",
				func(r *Run, i int) Value { return number(of(r, i).Exposure, IndexKm) }},
			{"exposure_bound", "Bound", IndexKm, Number, "Upper bound: no set takes away more for this budget.", "knapsack under precedence [P]",
				func(r *Run, i int) Value { return number(of(r, i).Bound, IndexKm) }},
		},
	}
}
