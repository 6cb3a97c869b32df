package result

import (
	"driftreach/internal/allocate"
	"driftreach/internal/field"
)

// StandUnitTable returns the table of how much of each stand is in each reporting unit, with stands in
// the run's order.
func StandUnitTable(run *Run) Table {
	var rows []unitRow
	for i := range run.Stands {
		t := &run.Stands[i]
		for _, share := range run.printedShares(wholeAcres(t), t.Shares) {
			rows = append(rows, unitRow{t, share})
		}
	}
	acres := func(of func(*allocate.Share) int64) func(*Run, int) Value {
		return func(r *Run, i int) Value { return r.acres(of(&rows[i].share)) }
	}
	const origin = "largest remainder [C]"
	return Table{
		Name: "stand_units", Title: "One row for each stand and each reporting unit that it lies in; the rows of a stand add up to its own acres (with --units)", Rows: len(rows),
		Fields: []Field{
			{field.StandID, "Stand", NoUnit, Text, "Identity of the stand.", "",
				func(_ *Run, i int) Value { return text(rows[i].stand.ID) }},
			{field.UnitID, "Unit", NoUnit, Text, "Identity of the unit; blank for what lies outside all units.", "",
				func(r *Run, i int) Value { return text(r.unitID(rows[i].share.Unit)) }},
			{"unit_name", "Unit's name", NoUnit, Text, "Name of the unit, else its id; blank outside all units.", "",
				func(r *Run, i int) Value { return text(r.unitName(rows[i].share.Unit)) }},
			{field.GrossAcres, "Gross area", Acres, Number, "Part of its gross acres in the unit: infested acres and the closed gaps between them, each where it lies.", origin, acres(func(s *allocate.Share) int64 { return s.Gross })},
			{field.InfestedAcres, "Infested area", Acres, Number, "Part of its infested acres, by the footprint.", origin, acres(func(s *allocate.Share) int64 { return s.Infested })},
			{field.CanopyAcres, "Canopy area", Acres, Number, "Part of its canopy acres, in proportion to infested acres; the cover of the whole stand is used.", origin, acres(func(s *allocate.Share) int64 { return s.Canopy })},
			{field.ZoneAcres, "Area in the zone", Acres, Number, "Part of its acres in the aquatic zone, by the footprint there.", origin, acres(func(s *allocate.Share) int64 { return s.Zone })},
		},
	}
}

// unitRow is one stand's share in one unit.
type unitRow struct {
	stand *Stand
	share allocate.Share // as printed
}

// standUnits are the fields for the units of a stand, if there are any.
func standUnits(run *Run) []Field {
	if len(run.Units) == 0 {
		return nil
	}
	return []Field{{"units", "Units", NoUnit, List, "All reporting units in which some of its acres lie; stand_units.csv has the acres in each.", "",
		func(r *Run, i int) Value {
			var ids []string
			for _, s := range r.Stands[i].Shares {
				ids = r.appendUnit(ids, s.Unit)
			}
			return list(ids)
		}}}
}

// reachUnits are the fields for the units of a piece of stream, if there are any.
func reachUnits(run *Run) []Field {
	if len(run.Units) == 0 {
		return nil
	}
	return []Field{
		{field.UnitID, "Unit", NoUnit, Text, "Reporting unit that most of the piece lies in; blank where it lies outside all units.", "",
			func(r *Run, i int) Value { return text(r.unitID(allocate.MainLength(r.ReachShares[i]))) }},
		{"units", "Units", NoUnit, List, "All reporting units that some of it lies in; in the summary each has its own length.", "",
			func(r *Run, i int) Value {
				var ids []string
				for _, l := range r.ReachShares[i] {
					ids = r.appendUnit(ids, l.Unit)
				}
				return list(ids)
			}},
	}
}

// appendUnit appends the id of a unit; nothing outside all units.
func (r *Run) appendUnit(ids []string, unit int32) []string {
	if unit == allocate.Outside {
		return ids
	}
	return append(ids, r.Units[unit].ID)
}

// unitID returns the id of the unit at index i; blank outside all units.
func (r *Run) unitID(i int32) string {
	if i == allocate.Outside {
		return ""
	}
	return r.Units[i].ID
}

// unitName returns the name of the unit at index i, or its id if it has no name; blank outside all
// units.
func (r *Run) unitName(i int32) string {
	if i == allocate.Outside || r.Units[i].Name == "" {
		return r.unitID(i)
	}
	return r.Units[i].Name
}
