package mapfile

import "driftreach/internal/result"

// point appends the placemark of record i, switched on or off to begin with. It
// has no balloon of its own: viewers show its data. Carried columns stay in
// points.geojson: the map is for looking.
func (m *mapper) point(b []byte, t result.Table, i int, visible bool) []byte {
	r := &m.run.Records[i]
	b = appendElement(append(b, "<Placemark>"...), "name", title(r.ID))
	if !visible {
		b = append(b, "<visibility>0</visibility>"...)
	}
	b = append(append(append(b, "<styleUrl>#"...), pointLook(r).id...), "</styleUrl>"...)
	m.row = t.Row(m.run, i, m.row)
	b = appendSchemaData(b, t, m.row)
	if finite(r.Position) {
		b = appendPoint(b, wrapped(r.Position))
	}
	return append(b, "</Placemark>\n"...)
}
