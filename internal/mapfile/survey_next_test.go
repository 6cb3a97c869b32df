package mapfile

import (
	"testing"

	"driftreach/internal/drift"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
)

// TestBanksAsWritten: by hand: a quarter is written once for all parts it applies to, and once for
// both banks if they are equal.
func TestBanksAsWritten(t *testing.T) {
	seen := stretch.Look{State: stretch.Looked, Quarter: survey.Quarter{Year: 2026, Number: 1}}
	never := stretch.Look{State: stretch.Never, Quarter: survey.Quarter{Year: 2026, Number: 3}}
	cell := func(left, right stretch.Look, exposure float64) stretch.Cell {
		return stretch.Cell{Banks: [2]stretch.Bank{{Last: left, Exposure: drift.Amount(exposure)}, {Last: right, Exposure: drift.Amount(exposure)}}}
	}
	for _, c := range []struct {
		cells []stretch.Cell
		want  string
	}{
		{[]stretch.Cell{cell(seen, seen, 1), cell(seen, seen, 0.5), cell(never, never, 3)}, `,"banks":[["2026Q1",1,0.5,"-2026Q3",3]]`},
		{[]stretch.Cell{cell(seen, never, 1), cell(seen, never, 0.123456789012)}, `,"banks":[["2026Q1",1,0.123456789],["-2026Q3",1,0.123456789]]`},
	} {
		if got := string(appendBanks(nil, c.cells)); got != c.want {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
	}
}
