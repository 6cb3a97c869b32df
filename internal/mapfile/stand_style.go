package mapfile

import (
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// carriedLook returns how a stand that nobody visited is drawn: as it would be
// otherwise, but hollow.
func carriedLook(s survey.Status, inZone bool) look {
	l := standLook(s, inZone)
	l.id, l.label, l.cover = "carried-"+l.id, l.label+", nobody visited", 0
	return l
}

// lookOf returns how a stand is drawn.
func lookOf(s *result.Stand) look {
	if s.Carried() {
		return carriedLook(s.Status, s.Zone.InZone)
	}
	return standLook(s.Status, s.Zone.InZone)
}

// absentLook returns how the last known footprint of a stand not detected since is
// drawn: a thin dark outline and nothing in it.
func absentLook() look {
	return look{id: "stand-not-detected", label: "Not detected since it was mapped", line: black, width: 1, fill: white, shape: ring}
}

// absenceLooks are the looks of a map that continues a batch before.
func absenceLooks(run *result.Run) []look {
	if run.Previous == nil {
		return nil
	}
	var all []look
	for _, inZone := range []bool{true, false} {
		for _, s := range survey.Statuses() {
			all = append(all, carriedLook(s, inZone))
		}
	}
	return append(all, absentLook())
}

// hollow is the style of an area that shows what is under it.
func hollow() kml.Element { return kml.PolyStyle(kml.Fill(false), kml.Outline(true)) }

// absent adds the folder of stands not detected since they were mapped, switched
// off to begin with.
func (d *document) absent() {
	if d.run.Previous == nil {
		return
	}
	t := result.AbsentTable(d.run)
	d.folder("Not detected since", "Stands once mapped that were looked for and not detected since: the last known footprint. They are in no acreage.", func() {
		all := where(len(d.run.Absent), func(int) bool { return true })
		d.features(all, standsApiece, absentLie(d.run), func(m *mapper, b []byte, i int) []byte { return m.absent(b, t, i) })
	})
}

// absent appends the placemark of absent stand i, named "2026Q1-0007, not detected
// since 2026Q3".
func (m *mapper) absent(b []byte, t result.Table, i int) []byte {
	a := &m.run.Absent[i]
	m.name = m.run.AppendAbsentName(m.name[:0], i)
	outline := outlines(a.Footprint.Polygons())
	m.surround(outline, nil)
	b = m.begin(b, t, i, absentLook().id, len(outline))
	return end(m.polygons(b, outline), len(outline))
}
