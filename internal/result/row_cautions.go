package result

import (
	"slices"
	"strings"

	"driftreach/internal/field"
)

// LabelCaution comes first in each row and event that people work from.
const LabelCaution = "Planning aid: the product label, permits and local rules decide."

// cautionsField is the column of what a reader of one row must know. It is for tables that are read row
// by row: a CSV has no place for a text above the rows, and rows are sorted, copied and sent on. stand
// returns the index of a row's stand; -1 for one that is not on the map.
func cautionsField(stand func(r *Run, i int) int32) Field {
	return Field{
		field.Cautions, "Cautions", NoUnit, Text, "What you must know before you work from this row: two sentences for all stands, then those for this one: acres as last known, missing measurements, or a place that may lie in or out of the zone.", "common practice [C]",
		func(r *Run, i int) Value { return text(strings.Join(r.rowCautions(stand(r, i)), " ")) },
	}
}

func (r *Run) rowCautions(stand int32) []string {
	out := []string{LabelCaution, FloodCaution}
	if stand < 0 {
		return out
	}
	s := &r.Stands[stand]
	switch {
	case s.Carried():
		out = append(out, "Nobody saw it this quarter: as last found in "+s.CarriedFrom.String()+".")
	case s.Parts.Carried > 0:
		out = append(out, "Nobody saw all of it this quarter: "+r.acres(s.Parts.Carried).String()+" infested acres of it are as last known.")
	}
	if assumed := standAssumed(s); len(assumed) > 0 {
		out = append(out, "Assumed, not measured: "+strings.Join(assumed, ", ")+".")
	}
	if slices.ContainsFunc(s.Members, r.uncertain) {
		out = append(out, "It may lie in or out of the aquatic zone: its position is uncertain by more than the setback.")
	}
	return out
}
