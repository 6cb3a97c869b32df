package mapfile

import (
	"fmt"
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
// are left out, lists with several items become lists.
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
	if len(v.List) > 1 {
		writeList(b, v.List)
		return
	}
	switch {
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
	sums := result.SummaryTable(result.Summarize(run)[:1])
	var row []result.Value
	row = sums.Row(run, 0, row)
	return "<h3>Totals</h3>" + balloonTable(sums, row) +
		"<h3>Legend</h3>" + legendTable() +
		"<h3>Cautions</h3>" + cautionList(run)
}

// legendTable returns the looks as an HTML table: a swatch and what it means.
// Swatches use the old attributes that every viewer's balloon understands.
func legendTable() string {
	var b strings.Builder
	b.WriteString("<table>")
	for _, l := range looks() {
		hue := l.fill
		if l.fill == black && l.cover == 0 && l.shape == noShape {
			hue = l.line
		}
		fmt.Fprintf(&b, `<tr><td bgcolor="#%06X">&#160;&#160;&#160;&#160;</td><td>%s%s</td></tr>`, uint32(hue), l.label, manner(l))
	}
	b.WriteString("</table>")
	return b.String()
}

// manner says in words what tells a look apart besides its colour.
func manner(l look) string {
	switch l.shape {
	case small:
		if l.line == blue {
			return ": heavy blue outline, dense fill"
		}
		return ": thin outline, light fill"
	case disc, square, triangle, cross, ring:
		return ": " + [...]string{"disc", "square", "triangle", "cross", "ring"}[l.shape-disc]
	}
	if l.cover == 0 {
		return fmt.Sprintf(": line %g pixels wide", l.width)
	}
	return ": pale area along the water"
}
