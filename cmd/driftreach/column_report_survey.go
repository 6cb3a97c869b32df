package main

import (
	"math"

	"driftreach/internal/batch"
	"driftreach/internal/control"
	"driftreach/internal/intake"
	"driftreach/internal/stream"
	"driftreach/internal/surveyed"
	"driftreach/internal/unit"
)

func unitRows(file intake.File, observed batch.Observed) []columnRow {
	return fieldRows(file, observed.Units, func(u *unit.Unit) string { return u.File }, func(u *unit.Unit, field string) string {
		return map[string]string{"unit_id": u.ID, "unit_name": u.Name}[field]
	})
}

func surveyedRows(file intake.File, observed batch.Observed) []columnRow {
	return fieldRows(file, observed.Surveyed, func(g *surveyed.Ground) string { return g.File }, func(g *surveyed.Ground, field string) string {
		switch field {
		case "start_date", "eventDate":
			return dayText(g.Begin)
		case "end_date":
			return dayText(g.End)
		}
		return ""
	})
}

func treatmentRows(file intake.File, observed batch.Observed) []columnRow {
	return fieldRows(file, observed.Actions, func(a *control.Action) string { return a.File }, treatmentValue)
}

// treatmentValue is one piece of work's value of a field, as understood.
func treatmentValue(a *control.Action, field string) string {
	switch field {
	case "date":
		return dayText(a.Date)
	case "stand_id":
		return a.StandID
	case "method":
		return a.Method
	case "formulation_class":
		return a.FormulationClass
	case "product", "registration_number", "amount", "amount_unit", "applicator", "licence", "start_time", "end_time", "wind_mps", "temperature_c", "hours":
		return applicationValue(&a.Application, field)
	}
	switch {
	case field == "treated_acres" && !math.IsNaN(a.TreatedAcres):
		return trim(a.TreatedAcres)
	case field == "decimalLongitude" && a.Placed:
		return trimDegrees(a.Position[0])
	case field == "decimalLatitude" && a.Placed:
		return trimDegrees(a.Position[1])
	}
	return ""
}

// applicationValue is what was used in a piece of work, as understood.
func applicationValue(a *control.Application, field string) string {
	for name, text := range map[string]string{ // one at most
		"product": a.Product, "registration_number": a.Registration, "amount_unit": a.AmountUnit, "applicator": a.Applicator,
		"licence": a.Licence, "start_time": a.Start, "end_time": a.End,
	} {
		if name == field {
			return text
		}
	}
	v := map[string]float64{"amount": a.Amount, "wind_mps": a.Wind, "temperature_c": a.Temperature, "hours": a.Hours}[field]
	if math.IsNaN(v) {
		return ""
	}
	return trim(v)
}

func barrierRows(file intake.File, observed batch.Observed) []columnRow {
	return fieldRows(file, observed.Barriers, func(s *stream.Structure) string { return s.File }, barrierValue)
}

// barrierValue is one barrier's value of a field, as understood.
func barrierValue(s *stream.Structure, field string) string {
	switch field {
	case "barrier_id":
		return s.ID
	case "kind":
		return string(s.Kind)
	case "decimalLongitude":
		return trimDegrees(s.Position[0])
	case "decimalLatitude":
		return trimDegrees(s.Position[1])
	}
	if math.IsNaN(s.Pass) {
		return ""
	}
	return trim(s.Pass)
}

func waterRows(file intake.File, observed batch.Observed) []columnRow {
	return fieldRows(file, observed.Water, func(s *stream.Surface) string { return s.File }, func(s *stream.Surface, field string) string {
		return map[string]string{"water_id": s.ID, "waterBody": s.Name, "kind": string(s.Kind)}[field]
	})
}
