package earlier

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/field"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/unit"
)

// units reads the earlier batch's printed acres by reporting unit, if its units were different or its
// stands were measured again.
func (e *opened) units(p *Batch, now *Now) error {
	if len(now.Units) == 0 || !p.Restated && !e.otherUnits(p, now) {
		return nil
	}
	at := columnsOf(p.History.Columns)
	for i, row := range p.History.Rows {
		scope := result.Scope(at.cell(row, field.Scope))
		if at.cell(row, field.Quarter) != e.quarter.String() || scope != result.InUnit && scope != result.OutsideUnits {
			continue
		}
		acres, err := grainsOf(at.cell(row, field.InfestedAcres))
		if err != nil {
			return e.damaged(fmt.Sprintf("%s: row %d: infested_acres: %v", mapfile.HistoryFile, i+1, err))
		}
		if acres == 0 { // left to the finding about different units
			continue
		}
		p.Units = append(p.Units, result.UnitAcres{
			Scope: scope, ID: check.FromCell(at.cell(row, field.UnitID)), Name: check.FromCell(at.cell(row, field.Name)), Infested: acres,
		})
	}
	return nil
}

// otherUnits says whether the earlier batch had reporting units that differ from the present ones, or
// read the same files in another way.
func (e *opened) otherUnits(p *Batch, now *Now) bool {
	if len(now.Units) == 0 || len(e.water.Files[intake.RoleUnits]) == 0 {
		return false
	}
	if e.otherFiles(now, intake.RoleUnits) {
		return true
	}
	at := columnsOf(p.History.Columns)
	then := map[string]bool{}
	for _, row := range p.History.Rows {
		if at.cell(row, field.Quarter) == e.quarter.String() && at.cell(row, field.Scope) == string(result.InUnit) {
			then[check.FromCell(at.cell(row, field.UnitID))] = true
		}
	}
	// a removed unit still has a row in the first batch without it
	return slices.ContainsFunc(now.Units, func(u unit.Unit) bool { return !then[u.ID] })
}

// grainsOf reads acres as printed, in grains.
func grainsOf(text string) (int64, error) {
	whole, part, _ := strings.Cut(text, ".")
	if len(part) > geo.GrainDecimals || whole == "" {
		return 0, fmt.Errorf("%q is not a figure that this program writes", text)
	}
	return strconv.ParseInt(whole+part+strings.Repeat("0", geo.GrainDecimals-len(part)), 10, 64)
}
