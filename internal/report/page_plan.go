package report

import (
	"fmt"
	"strings"

	"driftreach/internal/plan"
)

// mostPlanned is how many stands a line of the plan names. Our choice: one printed line.
const mostPlanned = 4

// plan says in a few sentences what the budget of the coming quarters achieves.
func (c *composer) plan() []string {
	p := c.run.Plan
	if p == nil || len(p.Quarters) == 0 {
		return []string{"No budget was given (--budget), so there is no plan. The order says what to treat first, not how far the money goes."}
	}
	first := &p.Quarters[0]
	visits, stands := 0, []string{}
	for i := range p.Rows {
		switch r := &p.Rows[i]; {
		case r.Quarter != first.Quarter:
		case r.Kind == plan.FollowUp:
			visits++
		default:
			stands = append(stands, c.run.Stands[r.Stand].ID)
		}
	}
	unit := clean(p.Unit, longestWord)
	line := fmt.Sprintf("The budget for %s is %s %s: %s for %s", first.Quarter, c.sum(p.Budget), unit, c.sum(first.FollowUp), plural(visits, "follow-up visit"))
	if first.PutOff > 0 {
		line += fmt.Sprintf(" (%d more put off)", first.PutOff)
	}
	line += fmt.Sprintf(", and %s for the first treatment of %s.", c.sum(first.First), c.namedStands(stands))
	lines := []string{line + c.taken(first)}
	if more := c.moreMoney(unit); more != "" {
		lines = append(lines, more)
	}
	if p.TooMany > 0 {
		lines = append(lines, fmt.Sprintf("There are %s pieces of work to choose from. That is too many to work out what more money buys (plan_curve.csv) and in how many draws each is chosen (chosen_percent).", grouped(float64(p.TooMany), 0)))
	}
	var later []string
	for i := range p.Quarters[1:] {
		q := &p.Quarters[i+1]
		later = append(later, fmt.Sprintf("%s %s", q.Quarter, c.sum(q.FollowUp+q.First)))
	}
	last := "plan.csv has every piece of work in order."
	if later != nil {
		last = "Later quarters, with the follow-up that will be due then: " + strings.Join(later, ", ") + " " + unit + ". " + last
	}
	if n := len(p.Held); n > 0 {
		last += fmt.Sprintf(" %s cannot be treated now: plan_held.csv says why, and how much floats off in the meantime.", plural(n, "stand"))
	}
	return append(lines, last)
}

// namedStands names the first few stands and counts the others.
func (c *composer) namedStands(ids []string) string {
	switch {
	case len(ids) == 0:
		return "no stand"
	case len(ids) > mostPlanned:
		return fmt.Sprintf("%d stands and blocks, beginning with %s", len(ids), strings.Join(ids[:mostPlanned], ", "))
	}
	return strings.Join(ids, ", ")
}

// taken says what share of the exposure of the stands that may be treated a quarter removes, how close
// that is to the best possible, and where exposure counts.
func (c *composer) taken(q *plan.Quarter) string {
	valued := ""
	if c.run.Plan.Valued {
		valued = " Exposure counts only where fragments float past the places of --values."
	}
	if q.All <= 0 {
		return valued
	}
	return fmt.Sprintf(" That takes away %s %% of the exposure of all stands that wait and may be treated then, %s.", grouped(float64(100*q.Exposure/q.All), 1), q.GapWords()) + valued
}

// moreMoney says what a budget half as large again would remove, and which work comes next; blank if
// nothing is left.
func (c *composer) moreMoney(unit string) string {
	p, text := c.run.Plan, ""
	first := &p.Quarters[0]
	for _, point := range p.Curve {
		if first.All > 0 && point.Money >= 1.5*first.Free*(1-1e-9) {
			text = fmt.Sprintf("With %s instead of %s for first treatments it would be %s %%", c.sum(point.Money), c.sum(first.Free), grouped(float64(100*point.Exposure/first.All), 1))
			break
		}
	}
	if n := p.Next; n != nil {
		next := fmt.Sprintf("%s is next in line, for %s %s more", c.run.Stands[n.Stand].ID, c.sum(n.More), unit)
		if n.With > 0 {
			next += fmt.Sprintf(", together with %d above it", n.With)
		}
		if text != "" {
			text += "; "
		}
		text += next
	}
	if text == "" {
		return ""
	}
	return text + "."
}

// sum formats an amount of the budget.
func (c *composer) sum(v plan.Cost) string { return onPaper(c.run.Plan.Text(v)) }
