package mapfile

import (
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// feature returns the placemark of a table's row, named m.name. Its balloon shows the row.
func (m *mapper) feature(t result.Table, i int, style string, shapes []kml.Element) kml.Element {
	m.row = t.Row(m.run, i, m.row)
	if names := shortTold[t.Name]; m.large && names != nil {
		m.balloon = append(appendRows(append(m.balloon[:0], "<table>"...), t, m.row, names), "</table>"...)
	} else {
		m.balloon = appendBalloon(m.balloon[:0], t, m.row)
	}
	m.balloon = append(m.balloon, balloonCaution...)
	return m.placemark(t, style, shapes)
}

// placemark returns a placemark with m.name, m.balloon, a style, the data of m.row, and shapes. A
// feature that has no shape left after rounding stays in the list without one.
func (m *mapper) placemark(t result.Table, style string, shapes []kml.Element) kml.Element {
	p := kml.Placemark(kml.Name(title(string(m.name))), m.description(), styleOf(style))
	if m.regions() {
		p.Append(region(m.around, leastPixels))
		m.around = box{}
	}
	p.Append(m.data(t, m.row))
	if len(shapes) > 1 {
		return p.Append(kml.MultiGeometry(shapes...))
	}
	return p.Append(shapes...)
}

// description returns m.balloon as a placemark's description. Its markup is not escaped, which takes a
// third less text.
func (m *mapper) description() kml.Element {
	m.words = appendCDATA(m.words[:0], m.balloon)
	return escaped{"description", m.words}
}

func styleOf(look string) kml.Element { return kml.StyleURL("#" + look) }

// surround records the box around areas, lines and places for the region of the next placemark. A place
// counts as spotSteps across, because a viewer draws it as a symbol that does not shrink with the map.
func (m *mapper) surround(area [][][]place, path [][]place, spots ...place) {
	if !m.regions() {
		return
	}
	m.around = box{}
	for _, rings := range area {
		m.around.addPlaces(rings[0])
	}
	for _, line := range path {
		m.around.addPlaces(line)
	}
	for _, p := range spots {
		m.around.add(max(p[0]-spotSteps/2, -halfTurn), p[1]-spotSteps/2, min(p[0]+spotSteps/2, halfTurn), p[1]+spotSteps/2)
	}
}

// data returns the known values of a row; blank ones, and most of a large map in a KMZ, are left out. In
// a KML they are typed by their schema. In a KMZ, GDAL (3.6) and programs built on it find no schema, so
// the values have names of their own.
func (m *mapper) data(t result.Table, row []result.Value) kml.Element {
	if !m.packed {
		return m.schemaData(t, row)
	}
	var kept map[string]bool // nil for all
	if m.large {
		kept = leastData[t.Name]
	}
	b := m.values[:0]
	for k, v := range row {
		if blank(v) || kept != nil && !kept[t.Fields[k].Name] {
			continue
		}
		b = append(append(append(b, `<Data name="`...), t.Fields[k].Name...), `"><value>`...)
		b = append(appendSimple(b, v), "</value></Data>"...)
	}
	m.values = b
	if len(b) == 0 {
		return nil
	}
	return escaped{"ExtendedData", b}
}

// polygons returns each polygon as an element.
func (m *mapper) polygons(all [][][]place) []kml.Element {
	out := make([]kml.Element, len(all))
	for i, rings := range all {
		p := kml.Polygon(kml.OuterBoundaryIs(kml.LinearRing(coordinates{m: m, path: rings[0]})))
		for _, hole := range rings[1:] {
			p.Append(kml.InnerBoundaryIs(kml.LinearRing(coordinates{m: m, path: hole})))
		}
		out[i] = p
	}
	return out
}

// lines returns each line as an element, with only the vertices that a map needs.
func (m *mapper) lines(all [][]place) []kml.Element {
	out := make([]kml.Element, len(all))
	for i, l := range all {
		out[i] = kml.LineString(kml.Tessellate(true), coordinates{m, l, true})
	}
	return out
}

// spot returns a place as an element.
func (m *mapper) spot(p place) kml.Element { return kml.Point(coordinates{m: m, path: []place{p}}) }
