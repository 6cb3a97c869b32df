package mapfile

import (
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// absent adds the folder of stands not detected since they were mapped, switched off at first.
func (d *document) absent() {
	if d.run.Previous == nil {
		return
	}
	t := result.AbsentTable(d.run)
	d.folder("Not detected since", "Stands once mapped that were looked for and not detected since: the last known footprint. They are in no acreage.", func() {
		all := where(len(d.run.Absent), func(int) bool { return true })
		d.features(all, standsApiece, absentLie(d.run), func(m *mapper, i int) kml.Element { return m.absent(t, i) })
	})
}

// absent returns the placemark of absent stand i, with a name such as "2026Q1-0007, not detected since
// 2026Q3".
func (m *mapper) absent(t result.Table, i int) kml.Element {
	a := &m.run.Absent[i]
	m.name = m.run.AppendAbsentName(m.name[:0], i)
	outline := m.shapes.unpack(a.Footprint, mostVertices)
	m.surround(outline, nil)
	return m.feature(t, i, absentLook().id, m.polygons(outline))
}
