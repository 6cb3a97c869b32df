package result

import "driftreach/internal/field"

// standHistory are the fields for what became of a stand since the previous batch. All but carried are
// blank in the first batch of a chain.
func standHistory() []Field {
	return []Field{
		{field.Change, "Change", NoUnit, Text, "kept, grown, shrunk, new, first looked at (on ground that nobody looked at before in the chain), merged (it continues several stands, all in previous_ids), split (another stand continues the same earlier stand), merged and split, found again (not detected before), partly resurveyed (some of it was found, and nobody saw the rest), partly not detected (some of its ground was looked at and nothing found; nobody saw the rest), not resurveyed (nobody saw any of it); blank in the first batch of a chain.",
			"overlap of footprints or general perimeters, else position uncertainty and the join distance; shares and distances assumed [A]",
			func(r *Run, i int) Value { return text(string(r.Stands[i].Change)) }},
		{field.PreviousAcres, "Infested in the batch before", Acres, Number, "Infested acres that the stands it continues had in the batch before; 0 for none. A stand that split counts in each of its parts.", "",
			func(r *Run, i int) Value {
				if r.Previous == nil {
					return Value{}
				}
				acres, _ := r.before(&r.Stands[i])
				return r.acres(acres)
			}},
		{"previous_ids", "Continues", NoUnit, List, "Stands of the batch before that it continues, its own identity included; a merged stand lists all of them.", "",
			func(r *Run, i int) Value { return list(r.PreviousIDs(&r.Stands[i])) }},
		{field.Carried, "Carried", NoUnit, Flag, "True when nothing of it was found this quarter and nobody saw its ground: all its records are of earlier quarters.", "",
			func(r *Run, i int) Value { return flag(r.Stands[i].Carried()) }},
		{field.CarriedAcres, "Carried, nobody saw it", Acres, Number, "Part of infested_acres on ground that nobody saw this quarter; blank in the first batch of a chain.", "looked at by surveyed ground or records; the distances are assumed [A]",
			func(r *Run, i int) Value {
				if r.Previous == nil {
					return Value{}
				}
				return r.acres(r.Stands[i].Parts.Carried)
			}},
		{field.CarriedFrom, "Last surveyed in", NoUnit, Text, "Quarter in which a carried stand was last surveyed; blank for other stands.", "",
			func(r *Run, i int) Value { return quarterText(r.Stands[i].CarriedFrom) }},
	}
}
