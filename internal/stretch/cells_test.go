package stretch

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// Unpacking gives the packed cells again, for any cells and for any division of them into slices.
func TestCellsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		look := rapid.Custom(func(t *rapid.T) Look {
			return Look{rapid.SampledFrom([]State{Never, Unknown, Looked}).Draw(t, "state"), rapid.SampledFrom([]survey.Quarter{q1, q2, {Year: -3, Number: 4}}).Draw(t, "quarter")}
		})
		exposure := rapid.SampledFrom([]float64{0, 1, 1.0 / 3, 5e-324, 1e300})
		cell := rapid.Custom(func(t *rapid.T) Cell {
			c := Cell{[2]Bank{{look.Draw(t, "look"), drift.Amount(exposure.Draw(t, "exposure"))}}}
			if c.Banks[1] = c.Banks[0]; rapid.Bool().Draw(t, "apart") {
				c.Banks[1] = Bank{look.Draw(t, "look"), drift.Amount(exposure.Draw(t, "exposure"))}
			}
			return c
		})
		var cells []Cell
		for range rapid.IntRange(0, 5).Draw(t, "runs") {
			cells = append(cells, slices.Repeat([]Cell{cell.Draw(t, "cell")}, rapid.IntRange(1, 200).Draw(t, "times"))...)
		}
		if got := PackCells(cells).Append(nil); !slices.Equal(got, cells) {
			t.Errorf("%v came back as %v", cells, got)
		}
		before := []Cell{{}}
		if got := PackCells(cells).Append(before); !slices.Equal(got[1:], cells) {
			t.Errorf("%v came back behind another as %v", cells, got)
		}
	})
}
