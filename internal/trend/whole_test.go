package trend

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// TestWhole: of a history with the whole area and a stream, the whole area is left with its own trends,
// equal to those of before; the history itself keeps its streams. One without batches has nothing.
func TestWhole(t *testing.T) {
	row := func(scope field.RowScope, name string, live int64) Row {
		r := Row{Scope: scope, Name: name}
		r.Figures[Live] = live
		return r
	}
	var batches []Batch
	for k := range 4 {
		q := survey.Quarter{Year: 2026, Number: int8(k + 1)}
		batches = append(batches, Batch{Quarter: q, Rows: []Row{row(field.ScopeTotal, "", int64(100*k)), row(field.ScopeWaterBody, "Long Water", int64(50*k))}})
	}
	h, err := Assemble(batches, DefaultRules())
	if err != nil || len(h.Sections) != 2 {
		t.Fatal(err, len(h.Sections))
	}
	whole := h.Whole()
	if len(whole.Sections) != 1 || whole.Sections[0].Scope != field.ScopeTotal || len(whole.Trends) != levels || len(h.Sections) != 2 {
		t.Fatalf("%d sections, %d trends, %d before", len(whole.Sections), len(whole.Trends), len(h.Sections))
	}
	for _, m := range Measures() {
		if diff := cmp.Diff(h.Trend(0, m), whole.Trend(0, m)); diff != "" {
			t.Errorf("%s: %s", m.Column(), diff)
		}
	}
	if none := (&History{}).Whole(); len(none.Sections) > 0 {
		t.Error("a history without batches has a section")
	}
}
