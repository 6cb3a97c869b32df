package report

import (
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/field"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// Number is a figure as the page prints it: Exact stands in the other files, to
// the digit; Shown is the same to fewer places, for the eye.
type Number struct{ Exact, Shown, Unit string }

// figure returns a cell in its unit; one without a value is a dash.
func figure(v result.Value, u result.Unit) Number {
	n := Number{Exact: v.String(), Shown: "–", Unit: string(u)}
	switch v.Kind {
	case result.Count:
		n.Shown = grouped(float64(v.Int), 0)
	case result.Number:
		n.Shown = onPaper(result.Shown(v, u))
	case result.Null:
		n.Unit = ""
	default:
		n.Shown = v.String()
	}
	return n
}

// eye writes acres of the trend for a reader.
func eye(n int64) string { return onPaper(geo.AcresText(n, trend.Decimals)) }

// acresOf writes an acreage for a reader.
func acresOf(a float64) string { return onPaper(geo.Acres(a).Text()) }

// onPaper sets a figure as print does: its digits in groups of three, a minus that is one.
func onPaper(text string) string {
	text = strings.Replace(text, "-", "−", 1)
	whole, part, _ := strings.Cut(text, ".")
	if part != "" {
		part = "." + part
	}
	return group(whole) + part
}

// sheet reads a table of the dictionary by the names of its fields, so that the
// page cannot say anything else than the files.
type sheet struct {
	run   *result.Run
	table result.Table
	at    map[string]int
}

func newSheet(run *result.Run, t result.Table) sheet {
	s := sheet{run: run, table: t, at: make(map[string]int, len(t.Fields))}
	for i, f := range t.Fields {
		s.at[f.Name] = i
	}
	return s
}

// tells says whether a table of sums has a field and a total in it: some are
// there, or filled in, only when asked for.
func (s sheet) tells(name string) bool { return s.cell(total, name).Kind != result.Null }

// cell returns one cell, a Null where the table has no such field.
func (s sheet) cell(row int, name string) result.Value {
	i, ok := s.at[name]
	if !ok || row >= s.table.Rows {
		return result.Value{}
	}
	return s.table.Cell(s.run, row, i)
}

// text returns a cell as text for the page.
func (s sheet) text(row int, name string) string {
	return clean(s.cell(row, name).String(), longestText)
}

// number returns a cell as a figure.
func (s sheet) number(row int, name string) Number {
	i, ok := s.at[name]
	if !ok {
		return figure(result.Value{}, result.NoUnit)
	}
	return figure(s.cell(row, name), s.table.Fields[i].Unit)
}

// Longest texts printed, in characters; the files have them whole. Our choice:
// what a cell of a table holds without pushing the others off the sheet.
const (
	longestWord = 60
	longestText = 200
)

// clean makes text from the field fit to print: at most n characters, what steers a
// reader shown as its escape, and no characters that HTML cannot hold.
func clean(s string, n int) string {
	s = strings.Map(func(r rune) rune {
		if r >= 0xfdd0 && r <= 0xfdef || r&0xfffe == 0xfffe {
			return utf8.RuneError
		}
		return r
	}, check.Visible(strings.Join(strings.Fields(s), " ")))
	return shorten(s, n)
}

// daysOf writes a quarter's first and last day, as they read in any language.
func daysOf(q survey.Quarter) string {
	return q.Begin().Format(time.DateOnly) + " to " + q.End().Format(time.DateOnly)
}

// plural counts a noun.
func plural(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return grouped(float64(n), 0) + " " + noun
}

func acres(f *trend.Figures, m trend.Measure) float64 { return float64(f[m]) / trend.PerUnit }

// placeOf says on which stream a row's stand lies, and where there.
func placeOf(s sheet, i int) string {
	name := known(clean(s.cell(i, field.WaterBody).String(), longestWord), "stream without a name")
	if km := s.cell(i, field.RiverKm); km.Kind == result.Number {
		name += ", km " + s.number(i, field.RiverKm).Shown
	}
	return name
}

// band writes a range of kilometres.
func band(b drift.Band[geo.Kilometers]) string {
	if math.IsNaN(float64(b.P10)) || math.IsNaN(float64(b.P90)) {
		return "–"
	}
	return grouped(float64(b.P10), 1) + " to " + grouped(float64(b.P90), 1)
}

// total is the row of the summary that holds the whole batch.
const total = 0

// known returns text, or what to say when there is none.
func known(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}
