package result

import (
	"slices"

	"driftreach/internal/drift"
	"driftreach/internal/field"
)

// ReachTable returns the table of stream pieces at risk.
func ReachTable(run *Run) Table {
	return Table{
		Name: "reaches", Title: "One row for each piece of stream at risk or possible, cut where the class changes",
		Fields: slices.Concat(reachPlace(), reachUnits(run), reachRisk(), reachTravel()), Rows: len(run.Reaches),
	}
}

func reachPlace() []Field {
	return []Field{
		{field.StreamID, "Stream line", NoUnit, Text, "Identity of the stream line.", "",
			func(r *Run, i int) Value { return text(r.Line(r.Reaches[i].Line).ID) }},
		{field.WaterBody, "Stream", NoUnit, Text, "Name of the stream; blank when it has none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.Line(r.Reaches[i].Line).Name) }},
		{"from_km", "From river km", Kilometers, Number, "River km at the upstream end: distance to the outlet along the main path.", "",
			func(r *Run, i int) Value { return number(r.Reaches[i].FromKm, Kilometers) }},
		{"to_km", "To river km", Kilometers, Number, "River km at the downstream end.", "",
			func(r *Run, i int) Value { return number(r.Reaches[i].ToKm, Kilometers) }},
		{field.LengthKm, "Length", Kilometers, Number, "Length of the piece.", "",
			func(r *Run, i int) Value { return number(r.Reaches[i].LengthKm, Kilometers) }},
	}
}

func reachRisk() []Field {
	return []Field{
		{field.Exposure, "Exposure", Index, Number, "Greatest amount afloat on the piece, in the units of released.", "relative index [A]",
			func(r *Run, i int) Value { return number(r.Reaches[i].Exposure, Index) }},
		{field.ExposureClass, "Exposure class", NoUnit, Text, "low, moderate or high for stream at risk, else possible. " + RiskRule + " " + PossibleRule, "breaks assumed [A]",
			func(r *Run, i int) Value { return text(ClassWord(r.Reaches[i].Class)) }},
		{field.Stands, "Stands upstream", NoUnit, Count, "Stands whose reach covers some of the piece; 0 where it is at risk only from all stands together.", "",
			func(r *Run, i int) Value { return count(r.Reaches[i].Stands) }},
		{"nearest_stand_id", "Nearest stand upstream", NoUnit, Text, "Of these stands, the one whose fragments reach the downstream end first. Blank where no stand's reach covers that end.", "",
			func(r *Run, i int) Value { return text(r.standID(r.Reaches[i].NearestStand)) }},
		{"barrier", "Barrier", NoUnit, Text, "dam, reservoir, weir or culvert at the downstream end; blank for none.", "",
			func(r *Run, i int) Value { return text(r.Reaches[i].Barrier) }},
	}
}

func reachTravel() []Field {
	return []Field{
		{"hours_afloat_fast", "Hours afloat, first", Hours, Number, HoursRule + " This is the time of its first fragment, by the fastest way; blank where nearest_stand_id is blank.",
			"Jobson 1996, USGS WRIR 96-4013, leading edge 0.890 of the peak's time [P]",
			func(r *Run, i int) Value { return number(r.Reaches[i].HoursFast, Hours) }},
		{"hours_afloat_mean", "Hours afloat, mean", Hours, Number, "Hours of the same stand at the mean velocity of the water; fragments afloat move at mean / 0.85.", "float method [P]",
			func(r *Run, i int) Value { return number(r.Reaches[i].HoursMean, Hours) }},
		{"velocity_from", "Velocity from", NoUnit, Text, "What the velocity was made from, and how far that may be off.", "table by order assumed [A]",
			func(r *Run, i int) Value {
				v := r.Reaches[i].Velocity
				return text(v.String() + ": " + v.PublishedError())
			}},
		{"stage", "Water stage", NoUnit, Text, "base or flood.", "flood factor within Brookshire & Dwire 2003 [P], the choice assumed [A]",
			func(r *Run, i int) Value { return text(r.stageName(int(r.Reaches[i].Stage))) }},
	}
}

// stageName returns the name of a water stage; blank if there is none.
func (r *Run) stageName(i int) string {
	if i >= len(r.Stages) {
		return ""
	}
	return r.Stages[i].Name
}

// ClassWord returns the word for an exposure class in the files.
func ClassWord(c drift.Class) string {
	switch c {
	case drift.High:
		return "high"
	case drift.Moderate:
		return "moderate"
	case drift.Possible:
		return "possible"
	}
	return "low"
}
