package result

import (
	"slices"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/drift"
	"driftreach/internal/field"
)

// StandTable returns the table of stands, one row for each stand in treatment order.
func StandTable(run *Run) Table {
	fields := append(standIdentity(), standUnits(run)...)
	fields = append(fields, standHistory()...)
	fields = append(fields, standAcreage()...)
	fields = append(fields, standMargins()...)
	fields = append(fields, standWater()...)
	fields = append(fields, placeFields(run, func(_ *Run, i int) int32 { return int32(i) })...)
	fields = append(fields, standFragments()...)
	fields = append(fields, standBands(run)...)
	fields = append(fields, standFlood(run)...)
	return Table{
		Name: "stands", Title: "One row for each stand, in treatment order",
		Fields: append(append(fields, standPlan()...), standPlanned(run)...), Rows: len(run.Stands),
	}
}

func standIdentity() []Field {
	return []Field{
		{field.StandID, "Stand", NoUnit, Text, "Identity of the stand: the quarter it was first mapped in, and a number.", "",
			func(r *Run, i int) Value { return text(r.Stands[i].ID) }},
		{field.Quarter, "Quarter", NoUnit, Text, "Calendar quarter of the batch.", "",
			func(r *Run, _ int) Value { return text(r.Quarter.String()) }},
		{field.UnitID, "Unit", NoUnit, Text, "Reporting unit in which most of its infested acres lie; blank outside all units, and when no units were given.", "",
			func(r *Run, i int) Value { return text(r.unitID(allocate.MainShare(r.Stands[i].Shares))) }},
		{"points", "Survey points", NoUnit, Count, "Detected survey records in the stand.", "",
			func(r *Run, i int) Value { return count(len(r.Stands[i].Members)) }},
		{field.Isolated, "Isolated", NoUnit, Flag, "True when no record of the stand has enough neighbours within the join distance; isolated finds are kept.",
			"Ester et al. 1996, DBSCAN [P]",
			func(r *Run, i int) Value { return flag(r.Stands[i].Isolated) }},
		{field.FirstDetected, "First detected", NoUnit, Date, "First day on which a record of the stand was seen; blank when every date was assumed.", "",
			func(r *Run, i int) Value { return day(r.Stands[i].First) }},
		{field.LastDetected, "Last detected", NoUnit, Date, "Last day on which a record of the stand was seen; blank when every date was assumed.", "",
			func(r *Run, i int) Value { return day(r.Stands[i].Last) }},
		{field.ManagementStatus, "Status", NoUnit, Text, "untreated, treated, resprout or standing_dead. Where its records differ, the status that needs most work.", "",
			func(r *Run, i int) Value { return text(r.Stands[i].Status.String()) }},
	}
}

func standAcreage() []Field {
	return []Field{
		{field.GrossAcres, "Gross area", Acres, Number, "Area inside the general perimeter: the infested footprint with gaps up to the join distance closed.",
			"USDA Forest Service Southwestern Region TP-R3-16-26, 2014 [P]",
			func(r *Run, i int) Value { return r.area(r.Stands[i].Gross) }},
		{field.InfestedAcres, "Infested area", Acres, Number, "Area inside the actual perimeter of the canopy: the dissolved union of the records' patches.",
			"USDA Forest Service Southwestern Region TP-R3-16-26, 2014 [P]",
			func(r *Run, i int) Value { return r.area(r.Stands[i].Infested) }},
		{field.CanopyAcres, "Canopy area", Acres, Number, "Infested acres times area-weighted canopy cover; standing dead canopy counts 0.",
			"USDA Forest Service Southwestern Region TP-R3-16-26, 2014 [P]",
			func(r *Run, i int) Value { return r.area(r.Stands[i].Canopy) }},
		{field.CanopyCoverPercent, "Canopy cover", Percent, Number, "Area-weighted canopy cover of the patches; standing dead patches count 0.",
			"Daubenmire 1959; BLM TR 1734-4 [P] where cover was recorded as a class",
			func(r *Run, i int) Value { return number(r.Stands[i].CoverPercent, Percent) }},
		{field.Assumed, "Assumed", NoUnit, List, "Settings that were used because a measurement of this stand is missing. What was assumed for the whole batch is in the file's own \"assumed\" member, the map's description and manifest.json.", "",
			func(r *Run, i int) Value { return list(standAssumed(&r.Stands[i])) }},
		{field.StemHeightM, "Stem height", Meters, Number, "Tallest stem recorded; blank when none was.", "",
			func(r *Run, i int) Value { return number(r.Stands[i].StemHeight, Meters) }},
	}
}

func standWater() []Field {
	return []Field{
		{field.AquaticZone, "In the aquatic zone", NoUnit, Flag, "True when footprint and zone share a point; touching counts.",
			"setback distance is the jurisdiction's; the default is assumed [A]",
			func(r *Run, i int) Value { return flag(r.Stands[i].Zone.InZone) }},
		{"zone_uncertain", "Zone uncertain", NoUnit, Flag, "True when the position of a record of the stand is uncertain by more than the setback. Then it is also uncertain whether the stand is in the zone.", "Darwin Core coordinateUncertaintyInMeters [P]",
			func(r *Run, i int) Value { return flag(slices.ContainsFunc(r.Stands[i].Members, r.uncertain)) }},
		{field.ZoneAcres, "Area in the zone", Acres, Number, "Area of the infested footprint inside the aquatic zone.", "",
			func(r *Run, i int) Value { return r.area(r.Stands[i].Zone.Area) }},
		{"water_distance_m", "Distance to the bank", Meters, Number, "From the footprint to the nearest bank; 0 in or on the water, blank without streams.", "",
			func(r *Run, i int) Value { return number(float64(r.Stands[i].Zone.WaterDistance), Meters) }},
		{field.StreamID, "Nearest stream line", NoUnit, Text, "Identity of the stream line whose bank is nearest; where the stand reaches several waters, the largest.", "",
			func(r *Run, i int) Value { return text(r.Line(r.Stands[i].Zone.Line).ID) }},
		{field.WaterBody, "Stream", NoUnit, Text, "Name of that stream; blank when it has none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.Line(r.Stands[i].Zone.Line).Name) }},
		{field.RiverKm, "River km", Kilometers, Number, "Distance along the main path to the outlet from the stand's lowest source, or upland from the nearest place on the nearest stream line; 0 at the outlet, blank without streams.", "",
			func(r *Run, i int) Value { return number(r.Stands[i].Drift.RiverKm, Kilometers) }},
	}
}

func standFragments() []Field {
	return []Field{
		{field.ReachKm, "Stream at risk", Kilometers, Number, "Length of stream downstream that the stand puts at risk. " + RiskRule + " " + ReachRule,
			"first-order retention [P]; half-distances assumed [A]",
			func(r *Run, i int) Value { return number(r.Stands[i].Drift.ReachKm, Kilometers) }},
		{field.ReachAloneKm, "Stream it alone puts at risk", Kilometers, Number, "Part of reach_km that no other stand's reach covers: the stream at risk becomes this much shorter if this stand alone is treated. Stream at risk only from all sources together is not counted.", "",
			func(r *Run, i int) Value { return number(r.Stands[i].Drift.AloneKm, Kilometers) }},
		{"reach_possible_km", "Possible reach", Kilometers, Number, "Length of stream downstream that is at risk from the stand, or possible. " + PossibleRule, "half-distances assumed [A]",
			func(r *Run, i int) Value { return number(r.Stands[i].Drift.PossibleKm, Kilometers) }},
		{field.Exposure, "Exposure", IndexKm, Number, "Its fragments afloat, summed over every km of stream: the exposure that goes away if this stand alone is treated.", "relative index [A]",
			func(r *Run, i int) Value { return number(r.Stands[i].Drift.Exposure, IndexKm) }},
		{field.Released, "Fragments released", Index, Number, "Relative amount released: canopy acres touching the zone times fragments per acre, less for treated and standing dead patches.", "relative index [A]",
			func(r *Run, i int) Value { return fixed(massBalanceOf(r.Stands[i].Drift).released, Index) }},
		{field.HeldAtBarriers, "Held at barriers", Index, Number, "Part of released that is held at dams, reservoirs, weirs and culverts.", "pass shares assumed [A]",
			func(r *Run, i int) Value { return fixed(massBalanceOf(r.Stands[i].Drift).held, Index) }},
		{field.LostToAge, "Lost to age", Index, Number, "Part of released that is still afloat when it is too old to root.", "viable days assumed [A]",
			func(r *Run, i int) Value { return fixed(massBalanceOf(r.Stands[i].Drift).aged, Index) }},
		{field.LeftAtOutlets, "Left at outlets", Index, Number, "Part of released that floats out past the outlets. What is not held, lost to age or left at outlets settles on the stream.", "",
			func(r *Run, i int) Value { return fixed(massBalanceOf(r.Stands[i].Drift).left, Index) }},
	}
}

// standBands are the fields for the percentiles, if there were draws.
func standBands(run *Run) []Field {
	if run.Draws == 0 {
		return nil
	}
	const origin = "Latin hypercube, McKay et al. 1979 [P]; spreads assumed [A]"
	reach := func(of func(drift.Band[geo.Kilometers]) geo.Kilometers) func(*Run, int) Value {
		return func(r *Run, i int) Value { return number(of(r.Stands[i].ReachBand), Kilometers) }
	}
	exposure := func(of func(drift.Band[drift.AmountKm]) drift.AmountKm) func(*Run, int) Value {
		return func(r *Run, i int) Value { return number(of(r.Stands[i].ExposureBand), IndexKm) }
	}
	return []Field{
		{field.ReachKmP10, "Stream at risk, P10", Kilometers, Number, "One draw in ten has a shorter reach.", origin, reach(p10)},
		{"reach_km_p50", "Stream at risk, P50", Kilometers, Number, "Median reach of the draws.", origin, reach(p50)},
		{field.ReachKmP90, "Stream at risk, P90", Kilometers, Number, "One draw in ten has a longer reach.", origin, reach(p90)},
		{"exposure_p10", "Exposure, P10", IndexKm, Number, "One draw in ten has less exposure.", origin, exposure(p10)},
		{"exposure_p50", "Exposure, P50", IndexKm, Number, "Median exposure of the draws.", origin, exposure(p50)},
		{"exposure_p90", "Exposure, P90", IndexKm, Number, "One draw in ten has more.", origin, exposure(p90)},
	}
}

func p10[U ~float64](b drift.Band[U]) U { return b.P10 }
func p50[U ~float64](b drift.Band[U]) U { return b.P50 }
func p90[U ~float64](b drift.Band[U]) U { return b.P90 }

// standFlood are the fields for what a flood would do, if both stages were computed.
func standFlood(run *Run) []Field {
	if !run.bothStages() {
		return nil
	}
	return []Field{
		{field.FloodReachKm, "Stream at risk in flood", Kilometers, Number, "Stream at risk in flood, with the flood's half-distances, velocity, release, barriers and releasing ground, as set.",
			"2 to 11 times, Brookshire & Dwire 2003 [P]; the choice assumed [A]",
			func(r *Run, i int) Value { return number(r.Stands[i].inFlood().ReachKm, Kilometers) }},
	}
}

func standPlan() []Field {
	return []Field{
		{field.TreatOrder, "Treat order", NoUnit, Count, "1 first. A stand is never before one whose fragments reach it.", "upstream first [C]",
			func(r *Run, i int) Value { return count(r.Stands[i].Advice.Order) }},
		{field.Requirements, "Requirements", NoUnit, List, "What work on the stand requires, most binding first.", "[C]",
			func(r *Run, i int) Value { return list(r.Stands[i].Advice.Requirements) }},
		{field.NextVisit, "Next visit", NoUnit, Date, "Day of the next visit: the last day to look again, or to treat regrowth. Blank for a stand that only waits for its first treatment.", "interval assumed [A]",
			func(r *Run, i int) Value { return day(r.Stands[i].NextVisit) }},
		{field.FollowUp, "Follow-up", NoUnit, Text, "What is to be done next, in one sentence; followup.csv says why.", "",
			func(r *Run, i int) Value { return text(r.Stands[i].FollowUp) }},
		{field.WaterUseLowAcreFeet, "Water use, low", AcreFeetYearly, Number, "Water that live canopy in the zone uses in a year, lower figure.", "Triana et al. 2015, 1100 mm a season [P]",
			func(r *Run, i int) Value { return number(r.Stands[i].Advice.WaterUseLow, AcreFeetYearly) }},
		{field.WaterUseHighAcreFeet, "Water use, high", AcreFeetYearly, Number, "Upper bound of the same, for dense growth in a streambed.", "[C]",
			func(r *Run, i int) Value { return number(r.Stands[i].Advice.WaterUseHigh, AcreFeetYearly) }},
	}
}
