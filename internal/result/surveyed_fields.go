package result

import (
	"driftreach/geo/earth"
	"driftreach/internal/field"
)

// SurveyedTable returns the table of the ground surveyed in the chain, one row for each connected
// piece.
func SurveyedTable(run *Run) Table {
	return Table{
		Name: "looked_at", Title: "One row for each piece of ground that was looked at in this chain of batches closely enough to find tall cane",
		Fields: []Field{
			{field.Quarter, "Quarter", NoUnit, Text, "Calendar quarter of the batch: the last one in which the ground was looked at.", "",
				func(r *Run, _ int) Value { return quarterText(r.Quarter) }},
			{"area_km2", "Area", SquareKilometers, Number, "Area of the piece.", "distances assumed [A]",
				func(r *Run, i int) Value { return number(float64(earth.Area(r.Surveyed.At(i)))/1e6, SquareKilometers) }},
		},
		Rows: run.Surveyed.Len(),
	}
}
