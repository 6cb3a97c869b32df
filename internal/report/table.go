// Package report writes the pages and the trend of batches: tables, charts and texts.
package report

import (
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// Units of the trend's fields. Each value has its own number of decimals.
const (
	ownUnit      result.Unit = "row's unit"
	ownUnitYear  result.Unit = "row's unit/yr"
	probability  result.Unit = "0 to 1"
	coefficient  result.Unit = "-1 to 1"
	deviations   result.Unit = "deviations"
	squaredPairs result.Unit = "pairs squared"
)

// Decimals of the figures that a trend adds to those of the batches. Our choice: enough to check a test
// by hand.
const (
	slopeDecimals = 6
	testDecimals  = 6
	pDecimals     = 7
)

// TrendTable returns trend.csv: one row for each measure of each section.
func TrendTable(all []trend.Trend) result.Table {
	all = slices.DeleteFunc(slices.Clone(all), func(t trend.Trend) bool {
		return t.Scope == result.NoStand || t.Scope == result.NoPlace
	})
	fields := append(trendScope(all), trendValues(all)...)
	fields = append(fields, trendTest(all)...)
	return result.Table{
		Name: "trend", Title: "One row for each measure, for the total, each stream and each reporting unit",
		Fields: append(fields, trendVerdict(all)...), Rows: len(all),
	}
}

// column makes a field's value from a trend; Null if of returns Null.
func column(all []trend.Trend, of func(*trend.Trend) result.Value) func(*result.Run, int) result.Value {
	return func(_ *result.Run, i int) result.Value { return of(&all[i]) }
}

// looked does the same, but is blank if nobody ever surveyed the section.
func looked(all []trend.Trend, of func(*trend.Trend) result.Value) func(*result.Run, int) result.Value {
	return column(all, func(t *trend.Trend) result.Value {
		if t.Quarters == 0 {
			return result.Value{}
		}
		return of(t)
	})
}

// tested does the same, but is blank if there was no test.
func tested(all []trend.Trend, of func(*trend.Trend) result.Value) func(*result.Run, int) result.Value {
	return column(all, func(t *trend.Trend) result.Value {
		if t.Test.N == 0 {
			return result.Value{}
		}
		return of(t)
	})
}

func trendScope(all []trend.Trend) []result.Field {
	return []result.Field{
		{Name: field.Scope, Label: "Scope", Kind: result.Text, Definition: "total, waterBody, unnamed (nearest stream has no name), noStream, unit or outsideUnits (in no reporting unit).",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfText(string(t.Scope)) })},
		{Name: field.Name, Label: "Stream or unit", Kind: result.Text, Definition: "Name of the stream or reporting unit.",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfText(t.Name) })},
		{Name: field.UnitID, Label: "Unit", Kind: result.Text, Definition: "Identity of the reporting unit; blank except for units.",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfText(t.UnitID) })},
		{Name: field.Measure, Label: "Measure", Kind: result.Text, Definition: "Column of summary.csv that the row is about. The parts of change have no rows of their own: the row of infested_acres has their sum.",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfText(t.Measure.Column()) })},
		{Name: "unit", Label: "Unit", Kind: result.Text, Definition: "The row's unit: acres or km.",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfText(t.Measure.Unit()) })},
	}
}

func trendValues(all []trend.Trend) []result.Field {
	return []result.Field{
		{Name: field.FirstQuarter, Label: "First quarter", Kind: result.Text, Definition: "First quarter in which somebody looked.",
			Value: looked(all, func(t *trend.Trend) result.Value { return result.OfText(t.First.String()) })},
		{Name: field.LastQuarter, Label: "Last quarter", Kind: result.Text, Definition: "Last quarter in which somebody looked.",
			Value: looked(all, func(t *trend.Trend) result.Value { return result.OfText(t.Last.String()) })},
		{Name: field.Quarters, Label: "Quarters", Kind: result.Count, Definition: "Quarters in which somebody looked: the values of the trend.",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfCount(t.Quarters) })},
		{Name: "missing", Label: "Missing quarters", Kind: result.Count, Definition: "Quarters between the first and the last in which nobody looked, or without a batch. They keep their place in time.",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfCount(t.Missing) })},
		{Name: field.FirstValue, Label: "First value", Unit: ownUnit, Kind: result.Number, Definition: "Value in the first quarter, on the ground known at the end: the last value less the changes between the last two looks at each place.",
			Value: looked(all, func(t *trend.Trend) result.Value { return fixed(t.Begin) })},
		{Name: field.LastValue, Label: "Last value", Unit: ownUnit, Kind: result.Number, Definition: "Value in the last quarter.",
			Value: looked(all, func(t *trend.Trend) result.Value { return fixed(t.End) })},
		{Name: field.FirstMapped, Label: "First mapped", Unit: ownUnit, Kind: result.Number, Definition: "What was mapped in the first quarter, on the ground looked at until then.",
			Value: looked(all, func(t *trend.Trend) result.Value { return fixed(t.Mapped[0]) })},
		{Name: field.LastMapped, Label: "Last mapped", Unit: ownUnit, Kind: result.Number, Definition: "What was mapped in the last quarter.",
			Value: looked(all, func(t *trend.Trend) result.Value { return fixed(t.Mapped[1]) })},
		{Name: field.Slope, Label: "Slope", Unit: ownUnitYear, Kind: result.Number, Origin: "Theil 1950, Sen 1968 [P]",
			Definition: "Median of the slopes between every two values; with Seasonal Kendall, only values of the same calendar quarter. Blank where there is only one value.",
			Value: column(all, func(t *trend.Trend) result.Value {
				if t.Quarters < 2 {
					return result.Value{}
				}
				return result.OfDecimals(t.Slope, slopeDecimals)
			})},
	}
}

func trendTest(all []trend.Trend) []result.Field {
	return []result.Field{
		{Name: field.Method, Label: "Method", Kind: result.Text, Origin: "Mann 1945, Kendall 1975; Hirsch, Slack and Smith 1982 [P]",
			Definition: "Mann-Kendall; Seasonal Kendall once the values span five years; blank below five quarters, as are the columns up to least_p.",
			Value:      tested(all, func(t *trend.Trend) result.Value { return result.OfText(t.Method()) })},
		{Name: "exact", Label: "Exact", Kind: result.Flag, Definition: "True when p was counted over every order of the values: for up to ten values, with quarters taken as independent. Otherwise p is the normal approximation with tie and continuity correction.",
			Value: tested(all, func(t *trend.Trend) result.Value { return result.OfFlag(t.Test.Exact) })},
		{Name: "pairs", Label: "Pairs", Kind: result.Count, Definition: "Number of pairs of values that were compared.",
			Value: tested(all, func(t *trend.Trend) result.Value { return result.OfCount(t.Test.Pairs) })},
		{Name: "correlation", Label: "Correlation", Unit: coefficient, Kind: result.Number, Definition: "Correlation of neighbouring quarters that variance allows for: the setting trend.serial_correlation; from 40 quarters on, the larger of it and the measured one.", Origin: "assumed [A]",
			Value: tested(all, func(t *trend.Trend) result.Value { return result.OfDecimals(t.Correlation, testDecimals) })},
		{Name: field.S, Label: "Kendall's S", Kind: result.Count, Definition: "Number of pairs that rise, less the number that fall.",
			Value: tested(all, func(t *trend.Trend) result.Value { return result.OfCount(t.Test.S) })},
		{Name: "variance", Label: "Variance of S", Unit: squaredPairs, Kind: result.Number, Definition: "Variance of s when nothing changes, corrected for ties. Neighbouring quarters are taken to be correlated as the column correlation says, and each quarter to rest on the looks that last_looks of its summary.csv names.", Origin: "Kendall 1975; Hamed 2008 [P]; correlation assumed [A]",
			Value: tested(all, func(t *trend.Trend) result.Value { return result.OfDecimals(t.Test.Variance, testDecimals) })},
		{Name: "z", Label: "z", Unit: deviations, Kind: result.Number, Definition: "s, moved towards 0 by the continuity correction, divided by the square root of variance.",
			Value: tested(all, func(t *trend.Trend) result.Value { return result.OfDecimals(t.Test.Z, testDecimals) })},
		{Name: "tau", Label: "Kendall's tau", Unit: coefficient, Kind: result.Number, Definition: "s divided by pairs: 1 when every pair rises, -1 when every pair falls.",
			Value: tested(all, func(t *trend.Trend) result.Value { return result.OfDecimals(t.Test.Tau, testDecimals) })},
		{Name: "p", Label: "p", Unit: probability, Kind: result.Number, Definition: "Two-sided chance of an s this far from 0 when nothing changes; never below 0.0000001.",
			Value: tested(all, func(t *trend.Trend) result.Value { return chance(t.Test.P) })},
		{Name: "p_adjusted", Label: "p among many", Unit: probability, Kind: result.Number, Definition: "p corrected for testing the same measure on all streams and units at once. Of the trends shown at this level or below, at most about this share is false. For the total it is p.", Origin: "Benjamini and Hochberg 1995 [P]",
			Value: tested(all, func(t *trend.Trend) result.Value { return chance(t.Adjusted) })},
		{Name: "least_p", Label: "Least p", Unit: probability, Kind: result.Number, Definition: "The smallest p that these quarters can give: p if every pair rose. Where it is above 0.05 they can show no trend.",
			Value: tested(all, func(t *trend.Trend) result.Value { return chance(t.Test.LeastP) })},
	}
}

func trendVerdict(all []trend.Trend) []result.Field {
	return []result.Field{
		{Name: "change_doubt", Label: "Doubt of the change", Unit: ownUnit, Kind: result.Number, Definition: "How far off the change from first to last value may be: half the width of its range P10 to P90. Errors of each measurement and of each crew in each quarter count. Errors of defaults, and of ground that nobody looked at in between, are the same in both and drop out. A change smaller than this is no trend. Blank where the batches do not have it.", Origin: "assumed [A]",
			Value: column(all, func(t *trend.Trend) result.Value {
				if !t.DoubtKnown {
					return result.Value{}
				}
				return result.OfDecimals(t.Doubt, trend.Decimals)
			})},
		{Name: "trend", Label: "Trend", Kind: result.Text, Definition: "rising or falling where p_adjusted is at or below 0.05 and the change is beyond change_doubt; else no trend shown; too few to tell where even a steady change would not show.", Origin: "0.05 [C]",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfText(string(t.Direction)) })},
		{Name: "verdict", Label: "Verdict", Kind: result.Text, Definition: "The trend in words, with what it rests on.",
			Value: column(all, func(t *trend.Trend) result.Value { return result.OfText(t.Verdict()) })},
	}
}

// fixed is a figure of a batch, unchanged.
func fixed(n int64) result.Value {
	return result.Value{Kind: result.Number, Decimals: trend.Decimals, Int: n}
}

// chance rounds p, but never to 0, which no data can prove.
func chance(p float64) result.Value {
	v := result.OfDecimals(p, pDecimals)
	v.Int = max(v.Int, 1)
	return v
}
