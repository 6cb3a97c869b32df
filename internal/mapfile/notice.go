package mapfile

import (
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// notices adds the folder of planned works to warn, where works were given.
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

// notice appends the placemark of notice i, named for kind, work and stand.
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

// workLook returns how a planned work is drawn: a broad dark line, or a marker
// of the viewer's own.
func workLook() look {
	return look{id: "work", label: "Planned work to warn", line: black, width: 4, fill: yellow, cover: 0.4}
}

// workStyle is the shared style of planned works, icon and all.
func workStyle(balloon kml.Element) kml.Element {
	l := workLook()
	return kml.SharedStyle(l.id,
		kml.IconStyle(kml.Color(l.fill.at(1)), kml.Scale(1)),
		kml.LineStyle(kml.Color(l.line.at(1)), kml.Width(l.width)),
		kml.PolyStyle(kml.Color(l.fill.at(l.cover)), kml.Fill(true), kml.Outline(true)),
		balloon)
}
