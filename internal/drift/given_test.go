package drift

import (
	"slices"
	"testing"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// TestGivenSources: by hand: sources that release something come in the order of their places, then
// their stands; those that were given are sorted where they are, others are left as they were.
func TestGivenSources(t *testing.T) {
	at := func(edge int32, offset float64, stand int32, amount Amount) Source {
		return Source{Stand: stand, Place: flow.Place{Edge: edge, Offset: geo.Meters(offset)}, Amount: amount}
	}
	given := []Source{at(2, 1, 0, 1), at(1, 5, 1, 0), at(1, 7, 2, 3), at(1, 3, 1, 1), at(1, 3, 0, 2)}
	want := []Source{given[4], given[3], given[2], given[0]}
	before := slices.Clone(given)
	if got := (Released{Stands: 3, Sources: given}).inFlowOrder(); !slices.Equal(got, want) || !slices.Equal(given, before) {
		t.Errorf("%v, and what was not given became %v", got, given)
	}
	got := (Released{Stands: 3, Sources: given, Given: true}).inFlowOrder()
	if !slices.Equal(got, want) || &got[0] != &given[0] {
		t.Errorf("given: %v", got)
	}
	entered := appendEntering(nil, got)
	if len(entered) != 4 || entered[3] != (drop{flow.Place{Edge: 2, Offset: 1}, 1}) {
		t.Errorf("%v enter", entered)
	}
}
