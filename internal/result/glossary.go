package result

import (
	"driftreach/internal/plan"
	"driftreach/internal/unit"
)

// complete is a run with every possible field: with draws, both stages, reporting units and control
// work.
var complete = Run{Draws: 1, Stages: make([]Stage, 2), Units: make([]unit.Unit, 1), WorkGiven: true, Plan: &plan.Plan{}}

// AllTables returns every table that a batch can have, with every field and no rows. The dictionary
// comes last.
func AllTables() []Table {
	tables := Tables(&complete)
	return append(tables, Dictionary(nil))
}
