package result

import (
	"driftreach/internal/drift"
)

// LinkTable returns the table of which stand can seed which, one row for each link.
func LinkTable(run *Run) Table {
	of := func(r *Run, i int) *drift.Link { return &r.Links[i] }
	return Table{
		Name: "stand_links", Title: "One row for each pair of a stand and a stand that it can seed. Only the nearest links are listed; the others follow from them",
		Fields: []Field{
			{"from_stand_id", "Stand upstream", NoUnit, Text, "The stand whose fragments could reach the other one. It is never treated after the other. Stands that can seed each other are treated together.", "upstream first [C]",
				func(r *Run, i int) Value { return text(r.standID(of(r, i).From)) }},
			{"to_stand_id", "Stand it can seed", NoUnit, Text, "The first stand on the way that they could reach. The upper stand can also seed every stand that this one can.", "upstream first [C]",
				func(r *Run, i int) Value { return text(r.standID(of(r, i).To)) }},
			{"share", "Share afloat", Index, Number, "Largest share, 0 to 1, of what one source (a survey point) of the upper stand released that may still be afloat at one of the lower, along the best single path with the flow not split; drift.risk_share or more. Of two water stages the larger.", "half-distances assumed [A]",
				func(r *Run, i int) Value { return number(of(r, i).Share, Index) }},
			{"hours_fast", "Hours afloat, first", Hours, Number, "Time that the first fragment takes from one to the other, by the fastest way. Of two water stages the shorter.", "see velocity_from of reaches",
				func(r *Run, i int) Value { return number(of(r, i).Fast, Hours) }},
		},
		Rows: len(run.Links),
	}
}
