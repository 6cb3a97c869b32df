package mapfile

import (
	"strconv"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/drift"
	"driftreach/internal/result"
)

// stand returns the placemark of stand i, with a name such as "3. 2026Q3-0007 (1.2 acres)". The number
// in the treatment order comes first, if the stand needs treatment. Lists show the name; the map does
// not, since most viewers write names only at points.
func (m *mapper) stand(t result.Table, i int) kml.Element {
	s := &m.run.Stands[i]
	m.name = m.run.AppendStandName(m.name[:0], i)
	m.row = t.Row(m.run, i, m.row)
	m.balloon = m.appendStandBalloon(m.balloon[:0], t, i)
	outline := m.shapes.unpack(s.Footprint, mostVertices)
	m.surround(outline, nil)
	return m.placemark(t, lookOf(s).id, m.polygons(outline))
}

// number returns the placemark with the number of stand i in the treatment order, at the place to go
// to. It is short because most viewers draw all names, even on top of one another.
func (m *mapper) number(i int) kml.Element {
	s := &m.run.Stands[i]
	m.balloon = append(append(append(m.balloon[:0], "<p>Stand "...), shown(s.ID)...), "</p>"...)
	m.balloon = m.appendToDo(m.balloon, s)
	p := kml.Placemark(kml.Name(strconv.Itoa(s.Advice.Order)), m.description(), styleOf(numberStyle))
	at := wrapped(s.Place())
	if m.regions() {
		p.Append(spotRegion(at))
	}
	return p.Append(m.spot(at))
}

// reach returns the placemark of piece i of the reach at risk.
func (m *mapper) reach(t result.Table, i int) kml.Element {
	r := &m.run.Reaches[i]
	m.name = m.run.AppendReachName(m.name[:0], i)
	path := lines(r.Path)
	m.surround(nil, path)
	return m.feature(t, i, reachLook(r.Class).id, m.lines(path))
}

// zone returns the placemark of water body i's zone.
func (m *mapper) zone(t result.Table, i int) kml.Element {
	z := &m.run.Zones[i]
	m.name = m.run.AppendZoneName(m.name[:0], i)
	area := m.shapes.unpack(z.Geometry, mostVertices)
	m.surround(area, nil)
	return m.feature(t, i, zoneLook().id, m.polygons(area))
}

// classFolders names the folders of the reach at risk, the highest class first.
var classFolders = [...]struct {
	name  string
	class drift.Class
}{{"High", drift.High}, {"Moderate", drift.Moderate}, {"Low", drift.Low}, {"Possible, not at risk", drift.Possible}}
