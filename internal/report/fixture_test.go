package report

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// quarterly is the worked example of the trend's tests: acres over five years, one list for each
// season.
var quarterly = [4][5]float64{
	{12.0, 11.5, 11.8, 10.2, 9.8}, {14.5, 14.0, 13.1, 12.6, 12.0}, {16.0, 15.2, 15.2, 14.1, 13.5}, {13.0, 12.8, 12.1, 11.9, 12.0},
}

// measureOf returns the measure of a column.
func measureOf(t testing.TB, column string) trend.Measure {
	t.Helper()
	for m := range (trend.Figures{}) {
		if trend.Measure(m).Column() == column {
			return trend.Measure(m)
		}
	}
	t.Fatalf("no measure has the column %s", column)
	return 0
}

// worked is the history of the worked example: the total and one stream, with
// the same figures in every measure.
func worked(t testing.TB) *trend.History {
	t.Helper()
	var batches []trend.Batch
	for year := range 5 {
		for season := range 4 {
			var f trend.Figures
			for m := range f {
				f[m] = int64(quarterly[season][year]*trend.PerUnit + 0.5)
				if column := trend.Measure(m).Column(); strings.HasSuffix(column, "_p10") || strings.HasSuffix(column, "_p90") {
					f[m] = trend.Blank
				}
			}
			batches = append(batches, trend.Batch{
				Quarter: survey.Quarter{Year: int16(2021 + year), Number: int8(season + 1)}, Apart: true,
				Rows: []trend.Row{{Scope: "total", Figures: f}, {Scope: "waterBody", Name: "=Long <Water>", Figures: f}},
			})
		}
	}
	return assembled(t, batches)
}

// gappy is six quarters of a total and a stream: the third has no batch, the fifth has a batch
// without the stream.
func gappy(t testing.TB) *trend.History {
	t.Helper()
	var batches []trend.Batch
	for k, number := range []int{1, 2, 4, 5, 6} {
		f := trend.Figures{trend.Gross: int64(number) * trend.PerUnit, trend.Infested: 5000 * 1e4, trend.ReachAtRisk: 2500 * 1e4}
		b := trend.Batch{Quarter: survey.Quarter{Year: int16(2024 + (number-1)/4), Number: int8((number-1)%4 + 1)}, Apart: true, Rows: []trend.Row{{Scope: "total", Figures: f}}}
		if k != 3 {
			b.Rows = append(b.Rows, trend.Row{Scope: "waterBody", Name: "Side Water", Figures: f})
		}
		batches = append(batches, b)
	}
	return assembled(t, batches)
}

func assembled(t testing.TB, batches []trend.Batch) *trend.History {
	t.Helper()
	h, err := trend.Assemble(batches, trend.Rules{})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func picture(t testing.TB, h *trend.History) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteTrend(&b, h); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// anyHistory draws histories with unusual names, gaps and figures.
func anyHistory(t testing.TB) *rapid.Generator[*trend.History] {
	name := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"a", "b", "<&\">", "=1", "\x00\x1b", "a very long name that goes on and on and on, and then on"}))
	return rapid.Custom(func(r *rapid.T) *trend.History {
		q := survey.Quarter{Year: rapid.Int16Range(1900, 2100).Draw(r, "year"), Number: rapid.Int8Range(1, 4).Draw(r, "number")}
		var batches []trend.Batch
		names := rapid.SliceOfNDistinct(name, 0, 15, func(s string) string { return s }).Draw(r, "names")
		for k := range rapid.IntRange(1, 30).Draw(r, "quarters") {
			q = q.Next()
			if k > 0 && rapid.IntRange(0, 3).Draw(r, "missing") == 0 {
				continue
			}
			b := trend.Batch{Quarter: q, Rows: []trend.Row{{Scope: "total", Figures: anyFigures(r)}}}
			for _, n := range names {
				if rapid.IntRange(0, 4).Draw(r, "unlisted") > 0 {
					b.Rows = append(b.Rows, trend.Row{Scope: "waterBody", Name: n, Figures: anyFigures(r)})
				}
			}
			batches = append(batches, b)
		}
		return assembled(t, batches)
	})
}

func anyFigures(r *rapid.T) trend.Figures {
	var f trend.Figures
	figure := rapid.OneOf(rapid.Just(int64(0)), rapid.Int64Range(0, 50), rapid.Int64Range(0, 1e9), rapid.Int64Range(0, 1<<52))
	for m := range f {
		f[m] = figure.Draw(r, "figure")
	}
	if rapid.IntRange(0, 3).Draw(r, "first of a chain") == 0 {
		for _, m := range trend.Parts() {
			f[m] = trend.Blank
		}
		return f
	}
	f[trend.Carried] = min(f[trend.Carried], f[trend.Infested])
	f[trend.Observed] -= figure.Draw(r, "shrunk")
	return f
}
