package learn

import (
	"driftreach/internal/estimate"
	"driftreach/internal/field"
	"driftreach/internal/result"
)

// Tables returns every table of an answer, in the order of the glossary. A nil answer gives the
// fields alone.
func Tables(a *Answer) []result.Table {
	if a == nil {
		a = &Answer{}
	}
	return []result.Table{riskTable(a), arrivalTable(a), curveTable(a), distanceTable(a), effectTable(a), clearTable(a), hardTable(a), labourTable(a), findTable(a), absentTable(a), growthTable(a)}
}

// File returns the name of a table's file.
func File(t result.Table) string { return t.Name + ".csv" }

func riskTable(a *Answer) result.Table {
	rows := a.Risk.Classes
	columns := []column[ClassShare]{
		{field.ExposureClass, "Class", result.NoUnit, result.Text, "Class of the stream in the batch before the new stands were found: not at risk, low, moderate, high; at risk is the last three together.",
			func(r *ClassShare) result.Value { return result.OfText(r.Name) }},
		{field.LookedAtKm, "Looked at", result.Kilometers, result.Number, "Stream of the class that was looked at and had been looked at before, summed over quarters; a stream of which one bank was looked at counts half.",
			func(r *ClassShare) result.Value { return result.OfNumber(r.LookedKm, result.Kilometers) }},
		{field.GroundShare, "Share of what was looked at", result.Probability, result.Number, "Share of the class in looked_at_km times the quarters since the look before.",
			func(r *ClassShare) result.Value { return result.OfNumber(r.Ground, result.Probability) }},
		{field.NewStands, "New stands", result.NoUnit, result.Count, "New stands that were found on it: hits and misses of new_stands.csv.",
			func(r *ClassShare) result.Value { return result.OfCount(r.Found) }},
	}
	columns = append(columns, interval(field.NewShare, "Share of new stands", result.Probability, "Share of all counted new stands that were found on the class; Wilson's score interval.", func(r *ClassShare) estimate.Interval { return r.Share })...)
	columns = append(columns, interval("ratio", "Ratio", result.Index, "new_share over ground_share: 1 is as much as on any stream looked at. The interval is that of new_share.", func(r *ClassShare) estimate.Interval { return r.Ratio })...)
	return table("risk_came_true", "One row for each class of the map of risk: new stands found on it against stream looked at", rows, columns)
}

func arrivalTable(a *Answer) result.Table {
	place := func(of func(*Arrival) result.Value) func(*Arrival) result.Value {
		return func(r *Arrival) result.Value {
			if r.On.Edge < 0 {
				return result.Value{}
			}
			return of(r)
		}
	}
	return table("new_stands", "One row for each stand that a batch calls new, and whether the map of risk had it", a.Risk.Arrivals, []column[Arrival]{
		{field.StandID, "Stand", result.NoUnit, result.Text, "Identity of the stand.", func(r *Arrival) result.Value { return result.OfText(r.StandID) }},
		{field.Quarter, "Quarter", result.NoUnit, result.Text, "Quarter of the batch that calls it new.", func(r *Arrival) result.Value { return result.OfText(r.Quarter.String()) }},
		{field.CountsAs, "Counts as", result.NoUnit, result.Text, "hit: on stream at risk in a batch since its place was last looked at; miss: on stream not at risk; or why it does not count: off the water, near a known stand (its growth), too tall to be new, no look before (no earlier look at its place is recorded).",
			func(r *Arrival) result.Value { return result.OfText(r.Kind.String()) }},
		{field.StreamID, "Stream", result.NoUnit, result.Text, "Stream line that it is on; blank off the water.", place(func(r *Arrival) result.Value { return result.OfText(r.Stream) })},
		{field.WaterBody, "Water body", result.NoUnit, result.Text, "Name of the stream; blank off the water and without a name.", place(func(r *Arrival) result.Value { return result.OfText(r.Water) })},
		{field.RiverKm, "River km", result.Kilometers, result.Number, "Distance to the outlet along the main path; blank off the water.", place(func(r *Arrival) result.Value { return result.OfNumber(r.RiverKm, result.Kilometers) })},
		{field.DecimalLongitude, "Longitude", result.Degrees, result.Number, "WGS 84.", func(r *Arrival) result.Value { return result.OfNumber(r.At[0], result.Degrees) }},
		{field.DecimalLatitude, "Latitude", result.Degrees, result.Number, "WGS 84.", func(r *Arrival) result.Value { return result.OfNumber(r.At[1], result.Degrees) }},
		{"source_within_km", "Stream to survey", result.Kilometers, result.Number, "For a miss: length of the stream above it, on all branches, from which a share of risk_share or more would still be afloat there; an unknown source may lie on it. Blank for others.",
			func(r *Arrival) result.Value {
				if r.Kind != Miss {
					return result.Value{}
				}
				return result.OfNumber(float64(r.AboveKm), result.Kilometers)
			}},
		{"stretches_to_survey", "Stretches to survey", result.NoUnit, result.List, "For a miss: the stretches of survey_next.csv that this stream lies on, the nearest first.",
			func(r *Arrival) result.Value {
				if r.Kind != Miss {
					return result.Value{}
				}
				return result.Value{Kind: result.List, List: r.Stretches}
			}},
	})
}

func curveTable(a *Answer) result.Table {
	return table("roc", "One row for each step of the ROC curve: of the looked-at cells without and with a new stand, the shares by which at least a given amount floated in a quarter", a.Risk.Curve.Points, []column[estimate.ROCStep]{
		{"share_without", "Cells without", result.Probability, result.Number, "Share of the looked-at cells without a new stand.", func(r *estimate.ROCStep) result.Value { return result.OfNumber(r.Controls, result.Probability) }},
		{"share_with", "New stands", result.Probability, result.Number, "Share of the new stands.", func(r *estimate.ROCStep) result.Value { return result.OfNumber(r.Cases, result.Probability) }},
	})
}

// tried is one tried factor on the half-distances.
type tried struct{ factor, below float64 }

func distanceTable(a *Answer) result.Table {
	var rows []tried
	for i, v := range a.Distance.Scale.Profile {
		rows = append(rows, tried{a.Distance.Scales[i], v})
	}
	return table("half_distance", "One row for each factor tried on the half-distances of the settings", rows, []column[tried]{
		{"factor", "Factor", result.Index, result.Number, "Multiple of every entry of drift.half_distance_by_order_km.", func(r *tried) result.Value { return result.OfNumber(r.factor, result.Index) }},
		{"deviance", "Below the best", result.Index, result.Number, "Twice the log likelihood of the new stands below that of the best factor; factors below 3.841 are within the interval, 95 %.", func(r *tried) result.Value { return result.OfNumber(r.below, result.Index) }},
	})
}
