package result

import "driftreach/internal/drift"

// ReachTable returns the table of stream pieces at risk.
func ReachTable(run *Run) Table {
	return Table{
		Name: "reaches", Title: "One row a piece of stream at risk, cut where the class changes",
		Fields: append(reachPlace(), reachRisk()...), Rows: len(run.Reaches),
	}
}

func reachPlace() []Field {
	return []Field{
		{"stream_id", "Stream line", NoUnit, Text, "Identity of the stream line.", "",
			func(r *Run, i int) Value { return text(r.line(r.Reaches[i].Line).ID) }},
		{"waterBody", "Stream", NoUnit, Text, "Name of the stream; blank when it has none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.line(r.Reaches[i].Line).Name) }},
		{"from_km", "From river km", Kilometers, Number, "River km at the upstream end: distance to the outlet along the main path.", "",
			func(r *Run, i int) Value { return number(r.Reaches[i].FromKm, Kilometers) }},
		{"to_km", "To river km", Kilometers, Number, "River km at the downstream end.", "",
			func(r *Run, i int) Value { return number(r.Reaches[i].ToKm, Kilometers) }},
		{"length_km", "Length", Kilometers, Number, "Length of the piece.", "",
			func(r *Run, i int) Value { return number(r.Reaches[i].LengthKm, Kilometers) }},
	}
}

func reachRisk() []Field {
	return []Field{
		{"exposure", "Exposure", Index, Number, "Greatest amount afloat on the piece, in the units of released.", "relative index [A]",
			func(r *Run, i int) Value { return number(r.Reaches[i].Exposure, Index) }},
		{"exposure_class", "Exposure class", NoUnit, Text, "low, moderate or high.", "breaks assumed [A]",
			func(r *Run, i int) Value { return text(ClassWord(r.Reaches[i].Class)) }},
		{"stands", "Stands upstream", NoUnit, Count, "Stands whose reach covers some of the piece.", "",
			func(r *Run, i int) Value { return count(r.Reaches[i].Stands) }},
		{"nearest_stand_id", "Nearest stand upstream", NoUnit, Text, "Nearest of them, along the water.", "",
			func(r *Run, i int) Value { return text(r.standID(r.Reaches[i].NearestStand)) }},
		{"barrier", "Barrier", NoUnit, Text, "dam, reservoir, weir or culvert at the downstream end; blank for none.", "",
			func(r *Run, i int) Value { return text(r.Reaches[i].Barrier) }},
	}
}

// ClassWord returns the word of an exposure class in the files.
func ClassWord(c drift.Class) string {
	switch c {
	case drift.High:
		return "high"
	case drift.Moderate:
		return "moderate"
	}
	return "low"
}
