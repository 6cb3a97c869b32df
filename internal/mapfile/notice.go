package mapfile

import (
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// notices adds the folder of planned works with notices, if works were given.
func (d *document) notices() {
	if !d.run.WorksGiven {
		return
	}
	t := result.NoticeTable(d.run)
	d.folder("Notices", "Works planned by others who must be warned: one placemark for each work and stand.", func() {
		all := where(len(d.run.Notices), func(int) bool { return true })
		d.features(all, standsApiece, worksLie(d.run), func(m *mapper, i int) kml.Element { return m.notice(t, i) })
	})
}

// notice returns the placemark of notice i, named after kind, work and stand.
func (m *mapper) notice(t result.Table, i int) kml.Element {
	n := &m.run.Notices[i]
	w := &m.run.Works[n.Work]
	m.name = m.run.AppendNoticeName(m.name[:0], i)
	area, path, spots := outlines(onGrid(w.Areas)), workLines(w), workPoints(w)
	m.surround(area, path, spots...)
	shapes := append(m.polygons(area), m.lines(path)...)
	for _, p := range spots {
		shapes = append(shapes, m.spot(p))
	}
	return m.feature(t, i, workLook().id, shapes)
}
