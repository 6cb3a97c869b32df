package result

import (
	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/field"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// SummaryTable returns the table of the given sums, as computed by Summarize.
func SummaryTable(run *Run, rows []Sum) Table {
	fields := append(sumScope(rows), sumAcreage(rows)...)
	fields = append(fields, sumMargins(rows)...)
	fields = append(fields, sumChange(rows)...)
	fields = append(fields, sumChangeRange(rows)...)
	fields = append(fields, sinceLookFields(rows)...)
	fields = append(fields, sumWork(run, rows)...)
	fields = append(fields, sumFragments(rows)...)
	return Table{
		Name: "summary", Title: "One row for the whole batch, then one a stream, then, with reporting units, one a unit; every column of the streams but percentiles adds up to the first row, and so does that of the units",
		Fields: append(fields, sumStages(run, rows)...), Rows: len(rows),
	}
}

func sumScope(rows []Sum) []Field {
	whole := func(of func(*Sum) int) func(*Run, int) Value {
		return func(_ *Run, i int) Value { return count(of(&rows[i])) }
	}
	return []Field{
		{field.Scope, "Scope", NoUnit, Text, "total, waterBody, unnamed (nearest stream has no name), noStream, unit or outsideUnits (in no unit); noStand and noPlace hold only control work on no known stand: noStand is among the streams; noPlace is among the units, for work without a position.", "",
			func(_ *Run, i int) Value { return text(string(rows[i].Scope)) }},
		{field.Name, "Stream or unit", NoUnit, Text, "Name of the stream or of the unit, else the unit's id. A stand belongs to its nearest stream, upland stands too. Its acres are split between the units in which they lie; the stand itself and its fragments count in the unit with most of it.", "",
			func(_ *Run, i int) Value { return text(rows[i].Name) }},
		{field.UnitID, "Unit", NoUnit, Text, "Identity of the reporting unit; blank except for units.", "",
			func(_ *Run, i int) Value { return text(rows[i].UnitID) }},
		{field.Quarter, "Quarter", NoUnit, Text, "Calendar quarter of the batch.", "",
			func(_ *Run, i int) Value { return text(rows[i].Quarter) }},
		{field.Stands, "Stands", NoUnit, Count, "Stands.", "", whole(func(s *Sum) int { return s.Stands })},
		{field.Isolated, "Isolated stands", NoUnit, Count, "Isolated ones among them.", "", whole(func(s *Sum) int { return s.Isolated })},
		{field.AquaticZoneStands, "Aquatic-zone stands", NoUnit, Count, "Those that touch the aquatic zone.", "", whole(func(s *Sum) int { return s.InZone })},
	}
}

func sumAcreage(rows []Sum) []Field {
	acres := func(of func(*Sum) int64) func(*Run, int) Value {
		return func(r *Run, i int) Value { return r.acres(of(&rows[i])) }
	}
	status := func(s survey.Status) func(*Run, int) Value {
		return func(r *Run, i int) Value { return r.acres(rows[i].ByStatus[s]) }
	}
	return []Field{
		{field.GrossAcres, "Gross area", Acres, Number, "Sum of the stands' gross acres, rounded once, as all acres here; those of streams and of units are made to add up to the total by largest remainder.", "", acres(func(s *Sum) int64 { return s.Gross })},
		{field.InfestedAcres, "Infested area", Acres, Number, "Sum of the stands' infested acres.", "", acres(func(s *Sum) int64 { return s.Infested })},
		{field.CanopyAcres, "Canopy area", Acres, Number, "Sum of the stands' canopy acres.", "", acres(func(s *Sum) int64 { return s.Canopy })},
		{field.ZoneAcres, "Infested area in the zone", Acres, Number, "Sum of the stands' acres inside the aquatic zone.", "", acres(func(s *Sum) int64 { return s.Zone })},
		{field.LiveAcres, "Live", Acres, Number, "Infested acres of stands that are live: untreated and resprouting ones. Treated stands, whose outcome nobody knows yet, and standing dead ones are counted apart.", "",
			func(r *Run, i int) Value { return r.acres(rows[i].Live()) }},
		{field.UntreatedAcres, "Untreated", Acres, Number, "Infested acres of untreated stands; the four statuses add up to infested_acres.", "", status(survey.Untreated)},
		{field.TreatedStandsAcres, "Treated stands", Acres, Number, "Infested acres of stands whose status is treated; these are not acres of treatment work.", "", status(survey.Treated)},
		{field.ResproutAcres, "Resprout", Acres, Number, "Infested acres of resprouting stands.", "", status(survey.Resprout)},
		{field.StandingDeadAcres, "Standing dead", Acres, Number, "Infested acres of standing dead stands.", "", status(survey.StandingDead)},
	}
}

// sumChange are the fields for how infested acres changed from the previous batch to this one.
func sumChange(rows []Sum) []Field {
	acres := func(of func(*Parts) int64) func(*Run, int) Value {
		return func(r *Run, i int) Value {
			if r.Previous == nil {
				return Value{}
			}
			return r.acres(of(&rows[i].Change))
		}
	}
	return []Field{
		{field.PreviousAcres, "Infested in the batch before", Acres, Number, "Infested acres as the batch before printed them, on the stream and in the unit where they lay then. previous_acres + restated_acres + observed_change_acres + new_acres + found_again_acres + first_looked_at_acres - not_detected_acres = infested_acres, to the last digit in every row. The columns of the streams and of the units add up to the total; to make them do so, a part may differ in the last digit in those rows, and previous_acres from what was printed then. These columns, cleared_acres and carried_acres are blank in the first batch of a chain.", "",
			acres(func(p *Parts) int64 { return p.Previous })},
		{field.RestatedAcres, "Restated", Acres, Number, "Acres of the batch before, measured again from its records with the present settings, units, streams and corrections, less the acres it printed. No plant changed. A withdrawn look-alike counts here and in no other part. In the row of a stream or unit, stands that now count in another row are here too. Stands not detected before keep the acres they had.", "",
			acres(func(p *Parts) int64 { return p.Restated })},
		{field.ObservedChangeAcres, "Observed change", Acres, Number, "Change of infested acres of stands of the batch before of which something was found now; below 0 where they shrank. Parts that nobody saw count the same in both batches.", "",
			acres(func(p *Parts) int64 { return p.Observed })},
		{field.NewAcres, "New", Acres, Number, "Infested acres of stands that were not known before, on ground that somebody had looked at before in the chain.", "looked at by surveyed ground or records; the distances are assumed [A]",
			acres(func(p *Parts) int64 { return p.New })},
		{field.FoundAgainAcres, "Found again", Acres, Number, "Gain of stands that an earlier batch of the chain did not detect, in whole or in part, up to the acres not detected then. The plants were missed then, or are back. A whole stand counts on the ground where it stood; a part counts by acres, since its ground is not kept.", "ground wider by position uncertainty, assumed [A]",
			acres(func(p *Parts) int64 { return p.FoundAgain })},
		{field.FirstLookedAtAcres, "First looked at", Acres, Number, "Infested acres on ground that nobody looked at before in the chain: neither new nor growth.", "looked at by surveyed ground or records; the distances are assumed [A]",
			acres(func(p *Parts) int64 { return p.FirstLooked })},
		{field.NotDetectedAcres, "Not detected", Acres, Number, "Last known infested acres, on ground that was looked at, of stands of the batch before where nothing was found.", "looked at by surveyed ground or records; the distances are assumed [A]",
			acres(func(p *Parts) int64 { return p.NotDetected })},
		{field.ClearedAcres, "Cleared", Acres, Number, "Part of not_detected_acres whose stands were treated or standing dead when last seen: nothing was found there after treatment. It may still come back.", "looked at by surveyed ground or records; the distances are assumed [A]",
			acres(func(p *Parts) int64 { return p.Cleared })},
		{field.CarriedAcres, "Carried, nobody saw it", Acres, Number, "Part of infested_acres that is as last known, because nobody saw that ground. It is no change, and says nothing about control.", "looked at by surveyed ground or records; the distances are assumed [A]",
			acres(func(p *Parts) int64 { return p.Carried })},
	}
}

func sumFragments(rows []Sum) []Field {
	broken := func(r *Run, i int) Value {
		if r.Previous == nil || rows[i].Scope != Total {
			return Value{}
		}
		return list(r.Previous.ReachApart)
	}
	index := func(of func(*Sum) int64) func(*Run, int) Value {
		return func(_ *Run, i int) Value { return fixed(of(&rows[i]), Index) }
	}
	return []Field{
		{field.ReachAtRiskKm, "Stream at risk", Kilometers, Number, "Length of stream at risk, each metre once; a reach belongs to the stream on which it lies.", "half-distances assumed [A]",
			func(_ *Run, i int) Value { return fixed(rows[i].ReachAtRisk, Kilometers) }},
		{field.ReachBreak, "Reach made otherwise", NoUnit, List, "Files and settings that changed the reach since the batch before, and corrections that added or removed a stand. Reach is never restated: where this is not blank, the reach cannot be compared with earlier quarters, and its trend begins again. Blank except for the total.", "", broken},
		{field.Released, "Fragments released", Index, Number, "Sum of the stands' fragments; released = settled + held at barriers + lost to age + left at outlets.", "relative index [A]", index(func(s *Sum) int64 { return s.Released })},
		{field.Settled, "Settled", Index, Number, "Part that settles on the stream.", "", index(func(s *Sum) int64 { return s.Settled })},
		{field.HeldAtBarriers, "Held at barriers", Index, Number, "Part of released that is held at barriers.", "", index(func(s *Sum) int64 { return s.Held })},
		{field.LostToAge, "Lost to age", Index, Number, "Part of released that is still afloat when it is too old to root.", "viable days assumed [A]", index(func(s *Sum) int64 { return s.Aged })},
		{field.LeftAtOutlets, "Left at outlets", Index, Number, "Part of released that floats out past the outlets.", "", index(func(s *Sum) int64 { return s.Left })},
	}
}

// sumStages are the fields for the percentiles of the whole reach at risk, in the total's row, and for
// the flood's reach, if there are any.
func sumStages(run *Run, rows []Sum) []Field {
	var fields []Field
	band := func(of func(drift.Band[geo.Kilometers]) geo.Kilometers) func(*Run, int) Value {
		return func(r *Run, i int) Value {
			if rows[i].Scope != Total {
				return Value{}
			}
			return number(of(r.AtRiskBand), Kilometers)
		}
	}
	if run.Draws > 0 {
		const origin = "Latin hypercube, McKay et al. 1979 [P]; spreads assumed [A]"
		fields = append(fields,
			Field{field.ReachAtRiskKmP10, "Stream at risk, P10", Kilometers, Number, "One draw in ten has less stream at risk; blank except for the total.", origin, band(p10)},
			Field{"reach_at_risk_km_p50", "Stream at risk, P50", Kilometers, Number, "Median of the draws; blank except for the total.", origin, band(p50)},
			Field{field.ReachAtRiskKmP90, "Stream at risk, P90", Kilometers, Number, "One draw in ten has more; blank except for the total.", origin, band(p90)})
	}
	if run.bothStages() {
		fields = append(fields, Field{"flood_reach_at_risk_km", "Stream at risk in flood", Kilometers, Number,
			"Length of stream at risk in flood, each metre once.", "flood factor assumed [A]",
			func(_ *Run, i int) Value { return fixed(rows[i].FloodReach, Kilometers) }})
	}
	return fields
}

// sumWork are the columns of control work, if there was any in the input.
func sumWork(run *Run, rows []Sum) []Field {
	if !run.WorkGiven {
		return nil
	}
	acres := func(of func(*TreatmentSum) int64) func(*Run, int) Value {
		return func(r *Run, i int) Value { return r.acres(of(&rows[i].Work)) }
	}
	whole := func(of func(*TreatmentSum) int) func(*Run, int) Value {
		return func(_ *Run, i int) Value { return count(of(&rows[i].Work)) }
	}
	fields := []Field{
		{field.WorkDoneJobs, "Work done", NoUnit, Count, "Rows of control work dated in the quarter; each counts in the stream and the unit with most of its acres. Filled in with --treatments, like the columns of work after it.", "",
			whole(func(s *TreatmentSum) int { return s.Treatments })},
		{field.WorkDoneJobsAcresUnknown, "Work without acres", NoUnit, Count, "Rows among them without acres; they are missing in the acres of work.", "",
			whole(func(s *TreatmentSum) int { return s.NoAcres })},
		{field.WorkDoneAcres, "Acres treated", Acres, Number, "Acres treated by that work, as entered; ground treated twice counts twice. These are acres of work, not infested acres of treated stands. They count in the stream and the unit of the stand; where several stands have one former id, in proportion to their infested acres. noStand has work that names no known stand and is near none.", "",
			acres(func(s *TreatmentSum) int64 { return s.Acres })},
	}
	for k, w := range treatment.ByMethod {
		fields = append(fields, Field{w.Acres(), "Acres treated, " + w.Label(), Acres, Number, "Part of work_done_acres: " + w.Label() + "; the methods add up to it.", "",
			acres(func(s *TreatmentSum) int64 { return s.ByMethod[k] })})
	}
	for k, w := range treatment.ByClass {
		fields = append(fields, Field{w.Acres(), "Acres treated, " + w.Label(), Acres, Number, "Part of work_done_acres: " + w.Label() + "; the classes add up to it.", "",
			acres(func(s *TreatmentSum) int64 { return s.ByClass[k] })})
	}
	return fields
}
