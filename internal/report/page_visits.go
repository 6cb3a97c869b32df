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
	g := Grid{ID: "visits-table", Caption: "The visits due, overdue ones first", Quiet: true, Head: heads("Due", "Stand", "Where", "What to do", "#Days over")}
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
	count, overdue := result.VisitsDue(c.run)
	return g, visitNote(count, overdue, c.run.Coarse > 0)
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

// visitNote counts the visits due and the overdue ones among them. A public edition has
// no calendar.
func visitNote(due, overdue int, public bool) string {
	if due == 0 {
		return "No visit is due: no stand is treated, standing dead or resprouting, and none is watched."
	}
	note := fmt.Sprintf("%s due, %s overdue at the end of the quarter.", plural(due, "visit"), grouped(float64(overdue), 0))
	if due > mostVisits {
		note += " These come first; followup.csv has them all"
		if !public {
			note += ", followup.ics puts them into a calendar"
		}
		note += "."
	}
	return note
}
