package report

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/result"
)

// nobodyToWarn says that none of so many planned works needs a notice.
func nobodyToWarn(works int) string {
	switch works {
	case 0:
		return "No planned work is still to come."
	case 1:
		return "The one planned work is not near a live stand, nor above clean water."
	}
	return fmt.Sprintf("None of the %s is near a live stand or above clean water.", plural(works, "planned work"))
}

// works returns the table of the planned works with a notice, one row for each work, in the order of
// notices.csv. What all owners are asked to do is said once.
func (c *composer) works() (Grid, []string) {
	run := c.run
	g := Grid{ID: "works-table", Caption: "Planned works to warn, by their start", Quiet: true, Head: heads("Work", "Dates", "Whom to tell", "Why", "Nearest stand", "Also ask")}
	if !run.WorksGiven {
		return g, []string{"No planned works were given (--works), so this page cannot say whom to warn."}
	}
	s := newSheet(run, result.NoticeTable(run))
	groups := groupNotices(run)
	if len(groups) == 0 {
		return g, []string{nobodyToWarn(len(run.Works))}
	}
	note := fmt.Sprintf("Warn the people of %d of %s.", len(groups), plural(len(run.Works), "planned work"))
	if len(groups) > mostWorks {
		note += " The first are here; notices.csv has them all."
		groups = groups[:mostWorks]
	}
	common := slices.Clone(s.cell(groups[0][0], field.Caution).List)
	for _, group := range groups {
		own := s.cell(group[0], field.Caution).List
		common = slices.DeleteFunc(common, func(ask string) bool { return !slices.Contains(own, ask) })
	}
	for _, group := range groups {
		g.Rows = append(g.Rows, Line{Cells: workCells(s, group, common)})
	}
	return g, []string{note + " Ask all: " + strings.Join(common, "; ") + "."}
}

// groupNotices returns the rows of each work; rows of the same work are consecutive.
func groupNotices(run *result.Run) [][]int {
	var groups [][]int
	for i := range run.Notices {
		if i == 0 || run.Notices[i].Work != run.Notices[i-1].Work {
			groups = append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], i)
	}
	return groups
}

// workCells returns the cells of one work, from its notices.
func workCells(s sheet, rows []int, common []string) []Cell {
	first, nearest := rows[0], rows[0]
	for _, i := range rows {
		if s.cell(i, field.DistanceM).Int < s.cell(nearest, field.DistanceM).Int {
			nearest = i
		}
	}
	stand := s.text(nearest, field.StandID)
	if s.cell(nearest, field.DistanceM).Kind != result.Null { // a public edition has no distances
		stand += ", " + s.number(nearest, field.DistanceM).Shown + " m away"
	}
	if n := len(rows) - 1; n > 0 {
		stand += fmt.Sprintf("; %d more", n)
	}
	name := clean(s.cell(first, field.WorkID).String(), longestWord)
	if kind := clean(s.cell(first, field.Kind).String(), longestWord); kind != "" {
		name += ", " + kind
	}
	var own []string
	for _, ask := range s.cell(first, field.Caution).List {
		if !slices.Contains(common, ask) {
			own = append(own, ask)
		}
	}
	nobody := "nobody named"
	if s.run.Coarse > 0 {
		nobody = "left out here"
	}
	return []Cell{
		words(name), whole(dates(s.text(first, field.StartDate), s.text(first, field.EndDate))),
		words(known(clean(s.cell(first, field.Contact).String(), longestWord), nobody)),
		words(s.text(nearest, field.Why)), words(stand), words(known(strings.Join(own, "; "), "nothing more")),
	}
}

func dates(from, to string) string {
	switch {
	case from == "" && to == "":
		return "not known"
	case to == "":
		return "from " + from
	case from == "":
		return "until " + to
	}
	return from + " to " + to
}
