package result

import "driftreach/internal/field"

// AbsentTable returns the table of stands that were once mapped and not detected since, one row for
// each stand.
func AbsentTable(run *Run) Table {
	return Table{
		Name: "absent", Title: "One row for each stand once mapped and not detected since",
		Fields: append(absentHistory(), absentLast()...), Rows: len(run.Absent),
	}
}

func absentHistory() []Field {
	return []Field{
		{field.StandID, "Stand", NoUnit, Text, "Identity of the stand; no other stand ever gets it.", "",
			func(r *Run, i int) Value { return text(r.Absent[i].ID) }},
		{field.Quarter, "Quarter", NoUnit, Text, "Calendar quarter of the batch.", "",
			func(r *Run, _ int) Value { return quarterText(r.Quarter) }},
		{field.LastQuarter, "Last found in", NoUnit, Text, "Quarter in which it was last surveyed and found.", "",
			func(r *Run, i int) Value { return quarterText(r.Absent[i].Quarter) }},
		{field.AbsentSince, "Not detected since", NoUnit, Text, "First quarter in which it was looked for and not detected.", "",
			func(r *Run, i int) Value { return quarterText(r.Absent[i].Since) }},
		{field.Visited, "Visited", NoUnit, Flag, "True when somebody visited its place this quarter and did not find it.", "surveyed ground or records; shares and distances assumed [A]",
			func(r *Run, i int) Value { return flag(r.Absent[i].Looked) }},
		{field.FirstDetected, "First detected", NoUnit, Date, "First day any of its records was seen, when it was last mapped.", "",
			func(r *Run, i int) Value { return day(r.Absent[i].First) }},
		{field.LastDetected, "Last detected", NoUnit, Date, "Last day any of its records was seen.", "",
			func(r *Run, i int) Value { return day(r.Absent[i].Last) }},
	}
}

// absentLast are the fields of what the stand was when it was last mapped.
func absentLast() []Field {
	return []Field{
		{field.ManagementStatus, "Last status", NoUnit, Text, "Status when it was last mapped.", "",
			func(r *Run, i int) Value { return text(r.Absent[i].Status.String()) }},
		{field.Isolated, "Isolated", NoUnit, Flag, "True when it was an isolated find.", "",
			func(r *Run, i int) Value { return flag(r.Absent[i].Isolated) }},
		{field.GrossAcres, "Gross area, last known", Acres, Number, "Gross acres when it was last mapped; counted nowhere now.", "",
			func(r *Run, i int) Value { return r.area(r.Absent[i].Gross) }},
		{field.InfestedAcres, "Infested area, last known", Acres, Number, "Infested acres when it was last mapped; counted nowhere now.", "",
			func(r *Run, i int) Value { return r.area(r.Absent[i].Infested) }},
		{field.CanopyAcres, "Canopy area, last known", Acres, Number, "Canopy acres when it was last mapped; counted nowhere now.", "",
			func(r *Run, i int) Value { return r.area(r.Absent[i].Canopy) }},
		{field.ZoneAcres, "Area in the zone, last known", Acres, Number, "Acres in the aquatic zone when it was last mapped.", "",
			func(r *Run, i int) Value { return r.area(r.Absent[i].Zone) }},
		{field.StreamID, "Nearest stream line", NoUnit, Text, "Identity of the nearest stream line when it was last mapped.", "",
			func(r *Run, i int) Value { return text(r.Absent[i].StreamID) }},
		{field.WaterBody, "Stream", NoUnit, Text, "Name of the nearest stream when it was last mapped; blank when it had none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.Absent[i].WaterBody) }},
		{field.RiverKm, "River km", Kilometers, Number, "Distance along the main path to the outlet when it was last mapped.", "",
			func(r *Run, i int) Value { return number(r.Absent[i].RiverKm, Kilometers) }},
	}
}
