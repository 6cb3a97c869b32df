package mapfile

import (
	"html"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/result"
)

// shown returns text as plain text in HTML, without tags and without a $[entity] that a viewer would
// replace by the value of a field.
func shown(s string) string {
	return strings.ReplaceAll(html.EscapeString(check.Visible(s)), "$[", "&#36;[")
}

// titles makes a name safe if a viewer puts it into a balloon as HTML, as KML's $[name] does. The name
// must also be readable as it is, in lists and on the map, so signs that open markup or an entity are
// replaced by similar ones.
var titles = strings.NewReplacer("<", "‹", ">", "›", "$[", "$(")

// title returns text from the field as part of a name. Fields and GeoJSON keep the text as it was.
func title(s string) string { return titles.Replace(check.Visible(s)) }

// balloonTable returns a row as an HTML table of labels and values. Blank values are left out, and a
// list has a line for each item.
func balloonTable(t result.Table, row []result.Value) string {
	return string(appendBalloon(nil, t, row))
}

// appendBalloon appends the same table.
func appendBalloon(b []byte, t result.Table, row []result.Value) []byte {
	b = append(b, "<table>"...)
	for k, v := range row {
		if blank(v) {
			continue
		}
		b = appendBalloonRow(b, t.Fields[k], v)
	}
	return append(b, "</table>"...)
}

// appendBalloonRow appends a row of such a table.
func appendBalloonRow(b []byte, f result.Field, v result.Value) []byte {
	b = append(append(append(b, "<tr><td>"...), f.Label...), "</td><td>"...)
	if v.Kind == result.Number && f.Unit != result.Degrees {
		b = append(b, shown(result.Shown(v, f.Unit))...)
	} else {
		b = appendShown(b, v)
	}
	if f.Unit != result.NoUnit && f.Unit != result.Index {
		b = append(append(b, ' '), f.Unit...)
	}
	return append(b, "</td></tr>"...)
}

// appendLinked appends text as HTML, as a link if it is the address of a page or picture.
func appendLinked(b []byte, s string) []byte {
	if !strings.HasPrefix(s, "https://") && !strings.HasPrefix(s, "http://") || strings.ContainsAny(s, " \t\r\n") {
		return append(b, shown(s)...)
	}
	address := shown(s)
	return append(append(append(append(append(b, `<a href="`...), address...), `">`...), address...), "</a>"...)
}

// appendShown appends a value as HTML.
func appendShown(b []byte, v result.Value) []byte {
	switch {
	case v.Kind == result.List:
		for k, item := range v.List {
			if k > 0 {
				b = append(b, "<br/>"...)
			}
			b = append(b, shown(item)...)
		}
		return b
	case v.Kind == result.Flag && v.Int != 0:
		return append(b, "yes"...)
	case v.Kind == result.Flag:
		return append(b, "no"...)
	case v.Kind == result.Text:
		return append(b, shown(v.Text)...)
	}
	return v.Append(b)
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

// balloonCaution ends every description, for viewers that show nothing else.
const balloonCaution = "<p>Planning aid only: the product label is the law, and local rules and permits decide. More cautions are in the map's own description.</p>"

// fieldSet returns the names as a set.
func fieldSet(names ...string) map[string]bool {
	set := map[string]bool{}
	for _, name := range names {
		set[name] = true
	}
	return set
}

// blank says whether nothing would be written for v.
func blank(v result.Value) bool {
	switch v.Kind {
	case result.Null:
		return true
	case result.Text, result.Date:
		return v.Text == ""
	case result.List:
		return len(v.List) == 0 || len(v.List) == 1 && v.List[0] == ""
	}
	return false
}
