package report

import (
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// SeriesTable returns series.csv: one row for each quarter of each section, including quarters without
// a value.
func SeriesTable(h *trend.History) result.Table {
	quarters := len(h.Quarters)
	section := func(i int) *trend.Section { return &h.Sections[i/quarters] }
	figures := func(i int) *trend.Figures { return section(i).Figures[i%quarters] }
	fields := []result.Field{
		{Name: field.Scope, Label: "Scope", Kind: result.Text, Definition: "total, waterBody, unnamed (nearest stream has no name), noStream, unit or outsideUnits (in no reporting unit); noStand and noPlace are control work that was done on no known stand.",
			Value: func(_ *result.Run, i int) result.Value { return result.OfText(string(section(i).Scope)) }},
		{Name: field.Name, Label: "Stream or unit", Kind: result.Text, Definition: "Name of the stream or reporting unit.",
			Value: func(_ *result.Run, i int) result.Value { return result.OfText(section(i).Name) }},
		{Name: field.UnitID, Label: "Unit", Kind: result.Text, Definition: "Identity of the reporting unit; blank except for units.",
			Value: func(_ *result.Run, i int) result.Value { return result.OfText(section(i).UnitID) }},
		{Name: field.Quarter, Label: "Quarter", Kind: result.Text, Definition: "Calendar quarter.",
			Value: func(_ *result.Run, i int) result.Value { return result.OfText(h.Quarters[i%quarters].String()) }},
		{Name: "batch", Label: "Batch", Kind: result.Flag, Definition: "True when there is a batch of the quarter.",
			Value: func(_ *result.Run, i int) result.Value { return result.OfFlag(h.Known[i%quarters]) }},
		{Name: field.Listed, Label: "Listed", Kind: result.Flag, Definition: "True when that batch lists the stream or unit.",
			Value: func(_ *result.Run, i int) result.Value { return result.OfFlag(figures(i) != nil) }},
		{Name: field.Looked, Label: "Looked", Kind: result.Flag, Definition: "True when somebody looked at some of its ground in the quarter: only then it is a value of the trend. Acres are 0 where somebody looked and nothing is left, blank where there was nothing before either and nobody looked.",
			Value: func(_ *result.Run, i int) result.Value { return result.OfFlag(section(i).Ages[i%quarters] != nil) }},
	}
	for _, m := range slices.Concat(trend.Measures(), trend.Parts(), trend.Work()) {
		fields = append(fields, measureField(m, figures))
	}
	for _, m := range trend.Measures() {
		if m.Chained() {
			fields = append(fields, sameGround(m, h))
		}
	}
	return result.Table{
		Name: "series", Title: "One row for each quarter, for the total, each stream and each reporting unit",
		Fields: fields, Rows: quarters * len(h.Sections),
	}
}

func measureField(m trend.Measure, figures func(int) *trend.Figures) result.Field {
	return result.Field{
		Name: m.Column(), Label: m.Label(), Unit: result.Unit(m.Unit()), Kind: result.Number,
		Definition: "The same figure as in the summary.csv of the quarter's batch.",
		Value: func(_ *result.Run, i int) result.Value {
			if f := figures(i); f != nil && f[m] != trend.Blank {
				return fixed(f[m])
			}
			return result.Value{}
		},
	}
}

// sameGround is a level on the ground known at the end.
func sameGround(m trend.Measure, h *trend.History) result.Field {
	quarters := len(h.Quarters)
	return result.Field{
		Name: field.SameGround + m.Column(), Label: m.Label() + " on the same ground", Unit: result.Unit(m.Unit()), Kind: result.Number,
		Definition: "What was there in this quarter on all the ground that is known in the last one: the last quarter's " + m.Column() + ", less the changes since then at places that somebody looked at twice. Ground first looked at later makes no change. A stream or unit can have less than 0: when a stand moves to another row, its acres move with it and its earlier changes stay. All streams together still add up to the total. Blank in a quarter in which nobody looked. Trends are made from this column; " + m.Column() + " has what was mapped, with what was carried.",
		Value: func(_ *result.Run, i int) result.Value {
			looked := h.Sections[i/quarters].Ages[i%quarters] != nil
			if v := h.Chain(i/quarters, m)[i%quarters]; looked && v != trend.Blank {
				return fixed(v)
			}
			return result.Value{}
		},
	}
}

// Tables returns the tables of a history, for the glossary.
func Tables(h *trend.History) []result.Table {
	return []result.Table{TrendTable(h.Trends), SeriesTable(h)}
}
