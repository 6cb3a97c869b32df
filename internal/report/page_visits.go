package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/result"
)

// visits returns the table of the visits due, the earliest first, so overdue ones come before all
// others. A stand that waits for treatment has a visit too where a part of it was treated: the day to
// look again at that part.
func (c *composer) visits() (Grid, string) {
	g := Grid{ID: "visits-table", Caption: "The next visits, overdue ones first", Quiet: true, Head: heads("Due", "Stand", "Where", "What to do", "#Days over")}
	s := newSheet(c.run, result.FollowupTable(c.run))
	day := func(i int) string { return cmp.Or(s.text(i, field.Due), s.text(i, field.LookAgain)) }
	var due []int
	for i := range s.table.Rows {
		if day(i) != "" {
			due = append(due, i)
		}
	}
	slices.SortStableFunc(due, func(a, b int) int { return strings.Compare(day(a), day(b)) })
	for _, i := range due[:min(len(due), mostVisits)] {
		g.Rows = append(g.Rows, Line{Alert: s.cell(i, field.Overdue).Int != 0, Cells: []Cell{
			whole(day(i)), whole(s.text(i, field.StandID)), words(placeOf(s, i)), words(todo(s.text(i, field.What), day(i))), amount(s.number(i, field.DaysOverdue)),
		}})
	}
	return g, c.visitNote(len(due))
}

// todo is what to do on the due day. It leaves out the day, which has its own column, and work that is
// not due then: a first treatment, which waits for its turn in the order, and a later second visit.
func todo(what, due string) string {
	day := " by " + due
	for part := range strings.SplitSeq(what, "; ") {
		if strings.Contains(part, day) {
			return strings.Replace(part, day, "", 1)
		}
	}
	return what
}

// visitsDue says how many visits are due by the end of the next quarter, and how many of them are
// overdue.
func (c *composer) visitsDue() string {
	calls, next := result.VisitsDue(c.run), c.run.Quarter.Next().String()
	if calls.Due == 0 {
		return "No visit is due by the end of " + next + "."
	}
	return fmt.Sprintf("%s due by the end of %s, %s overdue.", isOrAre(calls.Due, "visit"), next, grouped(float64(calls.Overdue), 0))
}

// visitNote counts the visits due, the overdue ones among them, and all later ones. A public edition
// has no calendar.
func (c *composer) visitNote(dated int) string {
	if dated == 0 {
		return "No visit is due: no stand is treated, standing dead or resprouting, and none is watched."
	}
	note := c.visitsDue()
	if later := result.VisitsDue(c.run).Later; later > 0 {
		note += " " + isOrAre(later, "visit") + " due later."
	}
	if dated > mostVisits {
		note += " The table has the first; followup.csv has them all"
		if c.run.Coarse == 0 {
			note += ", followup.ics puts them into a calendar"
		}
		note += "."
	}
	return note
}
