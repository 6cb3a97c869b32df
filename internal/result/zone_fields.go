package result

import (
	"slices"

	"driftreach/internal/aquatic"
	"driftreach/internal/field"
)

// setbackSetting is the setting for the width of the zone beyond the bank.
const setbackSetting = "aquatic.setback_m"

// ZoneTable returns the table of the dissolved aquatic zone, one row for each water body.
func ZoneTable(run *Run) Table {
	return Table{Name: "aquatic_zone", Title: "One row for each water body's aquatic zone", Rows: len(run.Zones), Fields: []Field{
		{field.WaterBody, "Stream", NoUnit, Text, "Name of the stream; blank for streams without a name.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.Zones[i].WaterBody) }},
		{"lines", "Stream lines", NoUnit, Count, "Stream lines the zone was made from.", "",
			func(r *Run, i int) Value { return count(r.Zones[i].Lines) }},
		{field.ZoneAcres, "Zone area", Acres, Number, "Area of the zone, the water itself included; zones of two streams overlap where they meet, so these do not add up.", "",
			func(r *Run, i int) Value { return r.area(r.Zones[i].Area) }},
		{"setback_m", "Setback", Meters, Number, "How far the zone reaches from the bank, as set for this batch.", "the legal distance is the jurisdiction's; the default is assumed [A]",
			func(r *Run, _ int) Value { return number(r.Setback, Meters) }},
		{field.Assumed, "Assumed", NoUnit, List, "Settings that were used because a measurement, or the jurisdiction's distance, is missing.", "",
			func(r *Run, i int) Value { return list(zoneAssumed(r, &r.Zones[i])) }},
	}}
}

// zoneAssumed returns the settings that replaced measurements for z, sorted.
func zoneAssumed(r *Run, z *aquatic.Zone) []string {
	var names []string
	if z.WidthAssumed {
		names = append(names, widthSetting)
	}
	if slices.Contains(r.Assumed, setbackSetting) {
		names = append(names, setbackSetting)
	}
	return names
}
