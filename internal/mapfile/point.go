package mapfile

import (
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// point returns the placemark of record i, visible or not at first. t is the table with carried
// columns. If it has any, the placemark gets a balloon that shows them too, with addresses as links;
// otherwise the viewer makes the balloon from the data.
func (m *mapper) point(t result.Table, i int, visible bool) kml.Element {
	r := m.run.Records.At(i)
	own := t
	own.Fields = t.Fields[:len(t.Fields)-len(m.run.ExtraColumns)]
	m.row = t.Row(m.run, i, m.row)
	p := kml.Placemark(kml.Name(title(r.ID)))
	if !visible {
		p.Append(kml.Visibility(false))
	}
	if m.balloon = m.appendCarried(m.balloon[:0], t, len(own.Fields)); len(m.balloon) > 0 {
		m.balloon = append(appendBalloon(m.balloon, own, m.row[:len(own.Fields)]), balloonCaution...)
		p.Append(m.description())
	}
	p.Append(styleOf(pointLook(r).id))
	if m.regions() && finite(r.Position) {
		p.Append(spotRegion(wrapped(r.Position)))
	}
	p.Append(m.data(own, m.row[:len(own.Fields)]))
	if finite(r.Position) {
		p.Append(m.spot(wrapped(r.Position)))
	}
	return p
}

// appendCarried appends the carried columns of m.row, from column n on, as a table; nothing if all are
// blank.
func (m *mapper) appendCarried(b []byte, t result.Table, n int) []byte {
	start := len(b)
	b = append(b, "<table>"...)
	empty := len(b)
	for k := n; k < len(m.row); k++ {
		if blank(m.row[k]) {
			continue
		}
		b = append(append(append(b, "<tr><td>"...), shown(t.Fields[k].Label)...), "</td><td>"...)
		b = append(appendLinked(b, m.row[k].String()), "</td></tr>"...)
	}
	if len(b) == empty {
		return b[:start]
	}
	return append(b, "</table>"...)
}
