package result

import (
	"fmt"
	"math"

	"driftreach/internal/field"
	"driftreach/internal/margin"
)

// FaultError is an impossible figure. It is an error of the program, not of its input.
type FaultError struct {
	Of    string // what has the figure, such as "stand 2026Q3-0007"
	Field string
	Value float64
}

// Error returns the figure and what has it.
func (e *FaultError) Error() string {
	return fmt.Sprintf("%s of %s came to %g, which cannot be: a fault of the program", e.Field, e.Of, e.Value)
}

// Hint returns what the user can do about it.
func (e *FaultError) Hint() string {
	return "nothing was written; please report it with the input that led there"
}

// Guard returns a *FaultError for the first acreage or length of a run that is not finite, is negative,
// or does not fit into fixed point, so that none is written blank or wrong.
func Guard(run *Run) error {
	for i := range run.Stands {
		t := &run.Stands[i]
		figures := []figure{
			{field.GrossAcres, float64(t.Gross.Acres()), Acres}, {field.InfestedAcres, float64(t.Infested.Acres()), Acres},
			{field.CanopyAcres, float64(t.Canopy.Acres()), Acres}, {field.ZoneAcres, float64(t.Zone.Area.Acres()), Acres},
			{field.ReachKm, float64(t.Drift.ReachKm), Kilometers}, {field.Released, float64(t.Drift.Released), Index}, {field.Exposure, float64(t.Drift.Exposure), Index},
		}
		r := t.ranges()
		for _, p := range []struct {
			name string
			margin.Range
		}{{"gross", r.gross}, {"infested", r.infested}, {"canopy", r.canopy}} {
			figures = append(figures, figure{p.name + "_acres_p10", float64(p.P10.Acres()), Acres}, figure{p.name + "_acres_p90", float64(p.P90.Acres()), Acres})
		}
		if err := guarded("stand "+t.ID, figures); err != nil {
			return err
		}
	}
	for i := range run.Absent {
		a := &run.Absent[i]
		if err := guarded("stand "+a.ID, []figure{{field.InfestedAcres, float64(a.Infested.Acres()), Acres}}); err != nil {
			return err
		}
	}
	for i := range run.Reaches {
		r := &run.Reaches[i]
		if err := guarded("a reach of stream "+run.Line(r.Line).ID, []figure{{"length_km", float64(r.LengthKm), Kilometers}}); err != nil {
			return err
		}
	}
	for _, s := range run.Stages {
		if err := guarded("the whole batch", []figure{{field.ReachAtRiskKm, float64(s.AtRiskKm), Kilometers}, {field.Released, float64(s.Balance.Released), Index}}); err != nil {
			return err
		}
	}
	return nil
}

// figure is one value of a field.
type figure struct {
	field string
	value float64
	unit  Unit
}

func guarded(of string, figures []figure) error {
	for _, f := range figures {
		if _, ok := scaled(f.value, f.unit.Decimals()); !ok || math.Signbit(f.value) && f.value != 0 {
			return &FaultError{of, f.field, f.value}
		}
	}
	return nil
}
