package report

import (
	"cmp"
	"fmt"
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/result"
)

// placeColumns are the summary's columns in the table by place.
var placeColumns = []struct{ name, label string }{
	{field.Stands, "#Stands"}, {field.AquaticZoneStands, "#In the zone"}, {field.GrossAcres, "#Gross, acres"}, {field.InfestedAcres, "#Infested, acres"},
	{field.CanopyAcres, "#Canopy, acres"}, {field.ZoneAcres, "#In the zone, acres"}, {field.CarriedAcres, "#Carried, acres"}, {field.WorkDoneAcres, "#Treated this quarter, acres"}, {field.ReachAtRiskKm, "#Stream at risk, km"},
}

// places returns the acreage by reporting unit or, without units, by stream: the places with most
// infested acres, the rest in one row, and the total.
func (c *composer) places() Grid {
	s := c.summary
	rows, noun := c.scoped("unit", "outsideUnits"), "unit"
	if len(rows) == 0 {
		rows, noun = c.scoped("waterBody", "unnamed", "noStream"), "stream"
	}
	g := Grid{ID: "places-table", Caption: "Acreage by " + map[string]string{"unit": "reporting unit", "stream": "stream"}[noun], Head: heads(map[string]string{"unit": "Unit", "stream": "Stream"}[noun])}
	slices.SortStableFunc(rows, func(a, b int) int {
		return cmp.Compare(s.cell(b, field.InfestedAcres).Int, s.cell(a, field.InfestedAcres).Int)
	})
	rest := []int(nil)
	if len(rows) > mostPlaces {
		rows, rest = rows[:mostPlaces-1], rows[mostPlaces-1:]
	}
	line := func(name string, rows ...int) Line {
		l := Line{Cells: []Cell{words(name)}}
		for _, col := range placeColumns {
			if s.tells(col.name) {
				l.Cells = append(l.Cells, amount(s.sum(rows, col.name)))
			}
		}
		return l
	}
	for _, col := range placeColumns {
		if s.tells(col.name) {
			g.Head = append(g.Head, heads(col.label)...)
		}
	}
	rows = slices.DeleteFunc(rows, func(row int) bool { // outside all units, with nothing there
		return s.cell(row, field.Scope).Text == "outsideUnits" && s.cell(row, field.Stands).Int == 0 && s.cell(row, field.GrossAcres).Int == 0 && s.cell(row, field.ReachAtRiskKm).Int == 0 && s.cell(row, field.WorkDoneAcres).Int == 0
	})
	for _, row := range rows {
		g.Rows = append(g.Rows, line(c.placeName(row), row))
	}
	if len(rest) > 0 {
		g.Rows = append(g.Rows, line(fmt.Sprintf("the other %s", plural(len(rest), noun)), rest...))
	}
	for _, row := range c.scoped(map[string]string{"unit": string(result.NoPlace), "stream": string(result.NoStand)}[noun]) {
		g.Foot = append(g.Foot, line("work on no stand that is known", row))
	}
	g.Foot = append(g.Foot, line("Total", total))
	return g
}

// scoped returns the rows of the summary with one of the scopes.
func (c *composer) scoped(scopes ...string) []int {
	var rows []int
	for i := range c.summary.table.Rows {
		if slices.Contains(scopes, c.summary.cell(i, field.Scope).Text) {
			rows = append(rows, i)
		}
	}
	return rows
}

func (c *composer) placeName(row int) string {
	if name := clean(c.summary.cell(row, field.Name).String(), longestWord); name != "" {
		return name
	}
	return map[string]string{"unnamed": "streams without a name", "noStream": "no stream", "outsideUnits": "outside all units"}[c.summary.cell(row, field.Scope).Text]
}

// sum adds up cells of a column, as printed.
func (s sheet) sum(rows []int, name string) Number {
	var v result.Value
	for _, row := range rows {
		if one := s.cell(row, name); one.Kind != result.Null {
			one.Int += v.Int
			v = one
		}
	}
	return figure(v, s.table.Fields[s.at[name]].Unit)
}
