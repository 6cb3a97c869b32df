package result

import (
	"slices"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/field"
)

// OrderTable returns the table of what treatment removes, one row for each stand in treatment order. It
// is the curve that justifies the order.
func OrderTable(run *Run) Table {
	return Table{
		Name: "order", Title: "One row for each stand in treatment order, with what treating it and all before it takes away",
		Fields: slices.Concat(orderStand(), orderRemoved(run), orderPlace(run)), Rows: len(run.Steps),
	}
}

// orderPlace are the fields for where the stand is, and what to mind there.
func orderPlace(run *Run) []Field {
	stand := func(r *Run, i int) int32 { return r.Steps[i].Stand }
	fields := []Field{
		{field.WaterBody, "Stream", NoUnit, Text, "Name of the stream nearest to the stand; blank when it has none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.Line(r.Stands[stand(r, i)].Zone.Line).Name) }},
		{field.RiverKm, "River km", Kilometers, Number, "Distance along the main path to the outlet, as river_km of stands.", "",
			func(r *Run, i int) Value { return number(r.Stands[stand(r, i)].Drift.RiverKm, Kilometers) }},
	}
	return append(append(fields, placeFields(run, stand)...), cautionsField(stand))
}

func orderStand() []Field {
	stand := func(r *Run, i int) *Stand { return &r.Stands[r.Steps[i].Stand] }
	return []Field{
		{field.TreatOrder, "Treat order", NoUnit, Count, "1 first; stands whose fragments reach each other share a number.", "upstream first [C]",
			func(r *Run, i int) Value { return count(stand(r, i).Advice.Order) }},
		{field.StandID, "Stand", NoUnit, Text, "Identity of the stand.", "",
			func(r *Run, i int) Value { return text(stand(r, i).ID) }},
		{field.ManagementStatus, "Status", NoUnit, Text, "Status of the stand; treated and standing dead ones are looked at, not treated again.", "",
			func(r *Run, i int) Value { return text(stand(r, i).Status.String()) }},
		{field.AcresToTreat, "Acres to treat", Acres, Number, "Infested acres of untreated and resprouting stands, less what was treated since their survey; 0 for other stands.", "",
			func(r *Run, i int) Value { return r.acres(acresToTreat(r, i)) }},
		{field.ReachKm, "Stream at risk", Kilometers, Number, "Stream that it puts at risk, as reach_km of stands. Where an area was drawn as treated since the survey, the reach of the rest.", "half-distances assumed [A]",
			func(r *Run, i int) Value { return number(stand(r, i).ToTreat().ReachKm, Kilometers) }},
		{field.ReachAloneKm, "Stream it alone puts at risk", Kilometers, Number, "Part of reach_km that is covered neither by another stand's reach nor by the reach of the stand's own treated ground.", "",
			func(r *Run, i int) Value { return number(stand(r, i).ToTreat().AloneKm, Kilometers) }},
		{field.Exposure, "Exposure", IndexKm, Number, "The exposure that goes away if this stand alone is treated; for a stand treated in part since its survey, if the rest is treated.", "relative index [A]",
			func(r *Run, i int) Value { return number(exposureToTreat(stand(r, i)), IndexKm) }},
	}
}

// orderRemoved are the fields for the running sums.
func orderRemoved(run *Run) []Field {
	acres := make([]int64, len(run.Steps))
	var sum int64
	for i := range run.Steps {
		sum += acresToTreat(run, i)
		acres[i] = sum
	}
	all := drift.AmountKm(0)
	if n := len(run.Steps); n > 0 {
		all = run.Steps[n-1].Exposure
	}
	return []Field{
		{field.AcresTreated, "Acres treated so far", Acres, Number, "Sum of the acres to treat down to this row, rounded once.", "",
			func(r *Run, i int) Value { return r.acres(acres[i]) }},
		{field.ExposureRemoved, "Exposure taken away so far", IndexKm, Number, "Sum of exposure of the stands treated down to this row, rounded once.", "relative index [A]",
			func(r *Run, i int) Value { return number(r.Steps[i].Exposure, IndexKm) }},
		{field.ExposureRemovedPercent, "Exposure taken away so far, of all", Percent, Number, "Share of the exposure of all stands that ask for treatment; blank when none releases anything.", "",
			func(r *Run, i int) Value { return percentOf(r.Steps[i], all) }},
		{"reach_freed_km", "Reach freed so far", Kilometers, Number, "Reach of the stands down to this row that no stand further down covers.", "half-distances assumed [A]",
			func(r *Run, i int) Value { return number(r.Steps[i].FreedKm, Kilometers) }},
	}
}

// exposureToTreat is the exposure that treating a stand removes. If the stand was treated in part, it
// is that of the rest.
func exposureToTreat(s *Stand) drift.AmountKm {
	if s.Done.Share == 1 {
		return s.ToTreat().Exposure
	}
	return drift.AmountKm(s.Done.Waits()) * s.ToTreat().Exposure
}

// acresToTreat returns the acres to treat, in grains.
func acresToTreat(r *Run, i int) int64 {
	if !r.Steps[i].Treat {
		return 0
	}
	s := &r.Stands[r.Steps[i].Stand]
	return (s.Infested * geo.SquareMeters(1-s.Done.Share)).Grains()
}

func percentOf(step drift.Step, all drift.AmountKm) Value {
	if all <= 0 {
		return Value{}
	}
	return number(100*step.Exposure/all, Percent)
}
