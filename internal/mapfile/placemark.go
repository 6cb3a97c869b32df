package mapfile

import (
	"slices"
	"strconv"

	"driftreach/internal/drift"
	"driftreach/internal/result"
)

// stand appends the placemark of stand i, with a name such as "3. 2026Q3-0007 (1.2 acres)". The number
// in the treatment order comes first, if the stand needs treatment. Lists show the name; the map does
// not, since most viewers write names only at points.
func (m *mapper) stand(b []byte, t result.Table, i int) []byte {
	s := &m.run.Stands[i]
	m.name = m.run.AppendStandName(m.name[:0], i)
	m.row = t.Row(m.run, i, m.row)
	m.balloon = m.appendStandBalloon(m.balloon[:0], t, i)
	outline := outlines(s.Footprint.Polygons())
	m.surround(outline, nil)
	b = m.open(b, t, lookOf(s).id, len(outline))
	return end(m.polygons(b, outline), len(outline))
}

// number appends the placemark with the number of stand i in the treatment order, at the place to go
// to. It is short because most viewers draw all names, even on top of one another.
func (m *mapper) number(b []byte, i int) []byte {
	s := &m.run.Stands[i]
	b = appendElement(append(b, "<Placemark>"...), "name", strconv.Itoa(s.Plan.Order))
	m.balloon = append(append(append(m.balloon[:0], "<p>Stand "...), shown(s.ID)...), "</p>"...)
	m.balloon = m.appendToDo(m.balloon, s)
	b = m.appendDescription(b)
	b = append(append(append(b, "<styleUrl>#"...), numberStyle...), "</styleUrl>"...)
	at := wrapped(s.Footprint.Inside(s.Center))
	if m.regions() {
		b = appendSpotRegion(b, at)
	}
	return append(appendPoint(b, at), "</Placemark>\n"...)
}

// reach appends the placemark of piece i of the reach at risk.
func (m *mapper) reach(b []byte, t result.Table, i int) []byte {
	r := &m.run.Reaches[i]
	m.name = m.run.AppendReachName(m.name[:0], i)
	path := lines(r.Path)
	m.surround(nil, path)
	b = m.begin(b, t, i, reachLook(r.Class).id, len(path))
	return end(m.lines(b, path), len(path))
}

// zone appends the placemark of water body i's zone.
func (m *mapper) zone(b []byte, t result.Table, i int) []byte {
	z := &m.run.Zones[i]
	m.name = m.run.AppendZoneName(m.name[:0], i)
	area := outlines(z.Geometry.Polygons())
	m.surround(area, nil)
	n := 0
	for _, rings := range area {
		for _, ring := range rings {
			n += len(ring)
		}
	}
	b = slices.Grow(b, dataBytes+vertexBytes*n) // at once: the zone of a large river is many megabytes
	b = m.begin(b, t, i, zoneLook().id, len(area))
	return end(m.polygons(b, area), len(area))
}

// classFolders names the folders of the reach at risk, the highest class first.
var classFolders = [...]struct {
	name  string
	class drift.Class
}{{"High", drift.High}, {"Moderate", drift.Moderate}, {"Low", drift.Low}, {"Possible, not at risk", drift.Possible}}
