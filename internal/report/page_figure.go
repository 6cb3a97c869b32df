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

// Number is a figure as the page prints it. Exact is the figure in the other files; Shown has fewer
// digits, for reading.
type Number struct{ Exact, Shown, Unit string }

// figure returns a cell with its unit; a dash if it has no value.
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

// eye formats acres of the trend for a reader.
func eye(n int64) string { return onPaper(geo.AcresText(n, trend.Decimals)) }

// acresOf formats an acreage for a reader.
func acresOf(a float64) string { return onPaper(geo.Acres(a).Text()) }

// onPaper formats a figure for print: digits in groups of three, and a real minus sign.
func onPaper(text string) string {
	text = strings.Replace(text, "-", "−", 1)
	whole, part, _ := strings.Cut(text, ".")
	if part != "" {
		part = "." + part
	}
	return group(whole) + part
}

// sheet reads a table of the dictionary by the names of its fields, so that the page cannot differ from
// the files.
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

// tells says whether a table of sums has a field with a total. Some fields exist, or have values, only
// if they were asked for.
func (s sheet) tells(name string) bool { return s.cell(total, name).Kind != result.Null }

// cell returns one cell; Null if the table has no such field.
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

// Longest texts on the page, in characters; the files have the full texts. Our choice: what fits into a
// cell without pushing the others off the sheet.
const (
	longestWord = 60
	longestText = 200
)

// clean makes text from the field fit to print: at most n characters, with control characters shown as
// escapes and without characters that HTML does not allow.
func clean(s string, n int) string {
	s = strings.Map(func(r rune) rune {
		if r >= 0xfdd0 && r <= 0xfdef || r&0xfffe == 0xfffe {
			return utf8.RuneError
		}
		return r
	}, check.Visible(strings.Join(strings.Fields(s), " ")))
	return shorten(s, n)
}

// daysOf formats a quarter's first and last day in a form that is the same in any language.
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

// placeOf says on which stream a row's stand is, and where along it.
func placeOf(s sheet, i int) string {
	name := known(clean(s.cell(i, field.WaterBody).String(), longestWord), "stream without a name")
	if km := s.cell(i, field.RiverKm); km.Kind == result.Number {
		name += ", km " + s.number(i, field.RiverKm).Shown
	}
	return name
}

// band formats a range of kilometres.
func band(b drift.Band[geo.Kilometers]) string {
	if math.IsNaN(float64(b.P10)) || math.IsNaN(float64(b.P90)) {
		return "–"
	}
	return grouped(float64(b.P10), 1) + " to " + grouped(float64(b.P90), 1)
}

// total is the row of the summary for the whole batch.
const total = 0

// known returns text, or otherwise if it is blank.
func known(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}
