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
	g, noun := Grid{ID: "places-table", Caption: "Acreage by reporting unit", Head: heads("Unit")}, "unit"
	rows, alone := c.scoped(result.InUnit, result.OutsideUnits), result.NoPlace
	if len(rows) == 0 {
		rows, alone = c.scoped(result.WaterBody, result.Unnamed, result.NoStream), result.NoStand
		g.Caption, g.Head, noun = "Acreage by stream", heads("Stream"), "stream"
	}
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
		return c.scope(row) == result.OutsideUnits && s.cell(row, field.Stands).Int == 0 && s.cell(row, field.GrossAcres).Int == 0 && s.cell(row, field.ReachAtRiskKm).Int == 0 && s.cell(row, field.WorkDoneAcres).Int == 0
	})
	for _, row := range rows {
		g.Rows = append(g.Rows, line(c.placeName(row), row))
	}
	if len(rest) > 0 {
		g.Rows = append(g.Rows, line(fmt.Sprintf("the other %s", plural(len(rest), noun)), rest...))
	}
	for _, row := range c.scoped(alone) {
		g.Foot = append(g.Foot, line("work on no stand that is known", row))
	}
	g.Foot = append(g.Foot, line("Total", total))
	g.Caption += ", each figure rounded by itself; all digits, which add up, are in summary.csv"
	return g
}

// scoped returns the rows of the summary with one of the scopes.
func (c *composer) scoped(scopes ...result.Scope) []int {
	var rows []int
	for i := range c.summary.table.Rows {
		if slices.Contains(scopes, c.scope(i)) {
			rows = append(rows, i)
		}
	}
	return rows
}

// scope is what a row of the summary is about.
func (c *composer) scope(row int) result.Scope {
	return result.Scope(c.summary.cell(row, field.Scope).Text)
}

// unnamedRows are the names, for readers, of rows that have none of their own.
var unnamedRows = map[result.Scope]string{
	result.Unnamed: "streams without a name", result.NoStream: "no stream", result.OutsideUnits: "outside all units",
}

func (c *composer) placeName(row int) string {
	if name := clean(c.summary.cell(row, field.Name).String(), longestWord); name != "" {
		return name
	}
	return unnamedRows[c.scope(row)]
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
