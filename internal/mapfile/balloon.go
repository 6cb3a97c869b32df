package mapfile

import (
	"html"
	"strings"

	"driftreach/internal/result"
)

// shown returns text as HTML that is nothing but text: no tags, and no
// $[entity] that a viewer would put a field's value in for.
func shown(s string) string {
	return strings.ReplaceAll(html.EscapeString(s), "$[", "&#36;[")
}

// balloonTable returns a row as an HTML table of label and value; blank values
// are left out, a list takes a line for each item.
func balloonTable(t result.Table, row []result.Value) string {
	var b strings.Builder
	b.Grow(2048)
	b.WriteString("<table>")
	for k, v := range row {
		s := v.String()
		if s == "" {
			continue
		}
		b.WriteString("<tr><td>")
		b.WriteString(t.Fields[k].Label)
		b.WriteString("</td><td>")
		writeShown(&b, t.Fields[k], v, s)
		b.WriteString("</td></tr>")
	}
	b.WriteString("</table>")
	return b.String()
}

func writeShown(b *strings.Builder, f result.Field, v result.Value, s string) {
	switch {
	case len(v.List) > 1:
		lines := make([]string, len(v.List))
		for i, item := range v.List {
			lines[i] = shown(item)
		}
		s = strings.Join(lines, "<br/>")
	case v.Kind == result.Flag && v.Int != 0:
		s = "yes"
	case v.Kind == result.Flag:
		s = "no"
	case v.Kind == result.Text || v.Kind == result.List:
		s = shown(s)
	}
	b.WriteString(s)
	if f.Unit != result.NoUnit && f.Unit != result.Index {
		b.WriteByte(' ')
		b.WriteString(string(f.Unit))
	}
}

func writeList(b *strings.Builder, items []string) {
	b.WriteString("<ul>")
	for _, item := range items {
		b.WriteString("<li>")
		b.WriteString(shown(item))
		b.WriteString("</li>")
	}
	b.WriteString("</ul>")
}

// cautionList returns the cautions as an HTML list.
func cautionList(run *result.Run) string {
	var b strings.Builder
	writeList(&b, result.Cautions(run))
	return b.String()
}

// mapDescription returns the balloon of the whole map: the batch's totals, the
// legend and the cautions.
func mapDescription(run *result.Run) string {
	sums := result.SummaryTable(run, result.Summarize(run)[:1])
	var row []result.Value
	row = sums.Row(run, 0, row)
	return "<h3>Totals</h3>" + balloonTable(sums, row) +
		"<h3>Legend</h3>" + legendTable() +
		"<h3>Cautions</h3>" + cautionList(run)
}
