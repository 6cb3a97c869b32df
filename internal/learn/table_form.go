package learn

import (
	"driftreach/internal/estimate"
	"driftreach/internal/result"
)

// column is one column of a table with rows of type T.
type column[T any] struct {
	name, label string
	unit        result.Unit
	kind        result.Kind
	definition  string
	of          func(*T) result.Value
}

// table makes a table of rows.
func table[T any](name, title string, rows []T, columns []column[T]) result.Table {
	t := result.Table{Name: name, Title: title, Rows: len(rows)}
	for _, c := range columns {
		t.Fields = append(t.Fields, result.Field{
			Name: c.name, Label: c.label, Unit: c.unit, Kind: c.kind, Definition: c.definition,
			Value: func(_ *result.Run, i int) result.Value { return c.of(&rows[i]) },
		})
	}
	return t
}

// interval makes three columns for an estimate: its value and its two bounds.
func interval[T any](name, label string, unit result.Unit, definition string, of func(*T) estimate.Interval) []column[T] {
	part := func(suffix, word string, pick func(estimate.Interval) float64) column[T] {
		return column[T]{name + suffix, label + word, unit, result.Number, definition, func(row *T) result.Value { return result.OfNumber(pick(of(row)), unit) }}
	}
	low, high := part("_low", ", at least", func(i estimate.Interval) float64 { return i.Low }), part("_high", ", at most", func(i estimate.Interval) float64 { return i.High })
	low.definition = "Lower bound of " + name + ", 95 %; blank where the data give none."
	high.definition = "Upper bound of " + name + ", 95 %; blank where the data give none."
	return []column[T]{part("", "", func(i estimate.Interval) float64 { return i.Value }), low, high}
}
