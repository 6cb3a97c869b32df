package report

import (
	"fmt"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/result"
)

// visits is the table of the visits due, in the order of followup.csv: the first
// due first, and so overdue ones before all others.
func (c *composer) visits() (Grid, string) {
	g := Grid{ID: "visits-table", Caption: "The visits due, overdue ones first", Quiet: true, Head: heads("Due", "Stand", "Where", "What to do", "#Days over")}
	s := newSheet(c.run, result.FollowupTable(c.run))
	for i := range s.table.Rows {
		if len(g.Rows) == mostVisits {
			break
		}
		if s.cell(i, field.Due).Kind != result.Date {
			continue
		}
		g.Rows = append(g.Rows, Line{Alert: s.cell(i, field.Overdue).Int != 0, Cells: []Cell{
			whole(s.text(i, field.Due)), whole(s.text(i, field.StandID)), words(placeOf(s, i)), words(todo(s.text(i, field.What), s.text(i, field.Due))), amount(s.number(i, field.DaysOverdue)),
		}})
	}
	return g, visitNote(result.VisitsDue(c.run))
}

// todo is what is to be done on the day it is due: without that day, which has a
// column of its own, and without what is not due then: a first treatment waits for its
// turn in the order, a second look may come later than regrowth.
func todo(what, due string) string {
	day := " by " + due
	for part := range strings.SplitSeq(what, "; ") {
		if strings.Contains(part, day) {
			return strings.Replace(part, day, "", 1)
		}
	}
	return what
}

// visitNote counts the visits due and the overdue ones among them.
func visitNote(due, overdue int) string {
	if due == 0 {
		return "No visit is due: no stand is treated, standing dead or resprouting, and none is watched."
	}
	note := fmt.Sprintf("%s due, %s overdue at the end of the quarter.", plural(due, "visit"), grouped(float64(overdue), 0))
	if due > mostVisits {
		note += " These come first; followup.csv has them all, followup.ics puts them into a calendar."
	}
	return note
}
