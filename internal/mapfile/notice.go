package mapfile

import "driftreach/internal/result"

// notices adds the folder of planned works with notices, if works were given.
func (d *document) notices() {
	if !d.run.WorksGiven {
		return
	}
	t := result.NoticeTable(d.run)
	d.folder("Notices", "Works planned by others who must be warned: one placemark for each work and stand.", func() {
		all := where(len(d.run.Notices), func(int) bool { return true })
		d.features(all, standsApiece, worksLie(d.run), func(m *mapper, b []byte, i int) []byte { return m.notice(b, t, i) })
	})
}

// notice appends the placemark of notice i, named after kind, work and stand.
func (m *mapper) notice(b []byte, t result.Table, i int) []byte {
	n := &m.run.Notices[i]
	w := &m.run.Works[n.Work]
	m.name = m.run.AppendNoticeName(m.name[:0], i)
	area, path, spots := outlines(onGrid(w.Areas)), workLines(w), workPoints(w)
	shapes := len(area) + len(path) + len(spots)
	m.surround(area, path, spots...)
	b = m.begin(b, t, i, workLook().id, shapes)
	b = m.lines(m.polygons(b, area), path)
	for _, p := range spots {
		b = appendPoint(b, p)
	}
	return end(b, shapes)
}
