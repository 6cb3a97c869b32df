package batch

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"driftreach/geo"
	"driftreach/internal/result"
)

// units reads what the earlier batch printed by reporting unit, where its units were
// others than those of now.
func (e *earlier) units(p *Previous, in Observed) error {
	var sums []string
	for _, file := range in.Files {
		if file.Role == "units" {
			sums = append(sums, file.SHA256)
		}
	}
	if slices.Equal(sums, e.unitSums) {
		return nil
	}
	at := columnsOf(p.History.Columns)
	for i, row := range p.History.Rows {
		scope := result.Scope(at.cell(row, "scope"))
		if at.cell(row, "quarter") != e.quarter.String() || scope != result.InUnit && scope != result.OutsideUnits {
			continue
		}
		acres, err := grainsOf(at.cell(row, "infested_acres"))
		if err != nil {
			return e.damaged(fmt.Sprintf("%s: row %d: infested_acres: %v", historyFile, i+1, err))
		}
		p.Units = append(p.Units, result.UnitAcres{
			Scope: scope, ID: unquoted(at.cell(row, "unit_id")), Name: unquoted(at.cell(row, "name")), Infested: acres,
		})
	}
	return nil
}

// columnsOf finds cells by the names of their columns.
type columns map[string]int

func columnsOf(names []string) columns {
	at := columns{}
	for i, name := range names {
		at[name] = i
	}
	return at
}

// cell returns a cell, blank where there is no such column.
func (c columns) cell(row []string, name string) string {
	if i, there := c[name]; there && i < len(row) {
		return row[i]
	}
	return ""
}

// unquoted takes away the apostrophe that keeps a spreadsheet from running a text
// as a formula.
func unquoted(text string) string {
	if len(text) > 1 && text[0] == '\'' && strings.IndexByte("=+-@\t\r", text[1]) >= 0 {
		return text[1:]
	}
	return text
}

// grainsOf reads acres as they are printed, in grains.
func grainsOf(text string) (int64, error) {
	whole, part, _ := strings.Cut(text, ".")
	if len(part) > geo.GrainDecimals || whole == "" {
		return 0, fmt.Errorf("%q is not a figure of ours", text)
	}
	return strconv.ParseInt(whole+part+strings.Repeat("0", geo.GrainDecimals-len(part)), 10, 64)
}
