package mapfile

import (
	"driftreach/internal/field"
	"driftreach/internal/result"
)

// mapper appends placemarks; one for each worker.
type mapper struct {
	run     *result.Run
	packed  bool // in a KMZ, in which GDAL does not look for a schema
	large   bool // short balloons; regions in a KML, little data in a KMZ
	around  box  // of the next placemark, if it needs a region
	thin    thinner
	row     []result.Value
	name    []byte
	balloon []byte
}

// balloonCaution ends every description, for viewers that show nothing else.
const balloonCaution = "<p>Planning aid only: the product label is the law, and local rules and permits decide. More cautions are in the map's own description.</p>"

// shortTold are the fields in the balloons of a large map, by table. Other tables have all.
var shortTold = map[string]map[string]bool{
	"reaches":      fieldSet("exposure_class", "hours_afloat_fast", "nearest_stand_id", "barrier", "stage"),
	"aquatic_zone": fieldSet(field.ZoneAcres),
	"survey_next":  fieldSet("why", field.LookedAt, field.Access),
}

// leastData are the fields that the data of a large map in a KMZ has, by table. Other tables have
// all. Some globes read every part at once and hold each value of each feature: with all of them
// CesiumJS 1.140 has no memory left to draw 48,000 stands. map.kml and the GeoPackage have all fields.
var leastData = map[string]map[string]bool{
	"stands": fieldSet(field.StandID, field.ManagementStatus, field.FollowUp, field.NextVisit, field.TreatOrder, field.Requirements, field.InfestedAcres,
		field.DecimalLongitude, field.DecimalLatitude),
	"reaches":      fieldSet(),
	"aquatic_zone": fieldSet(),
	"survey_next":  fieldSet(),
	"points":       fieldSet(),
}

// regions says whether placemarks have regions of their own. In a large map in a KMZ the parts have them.
func (m *mapper) regions() bool { return m.large && !m.packed }

// fieldSet returns the names as a set.
func fieldSet(names ...string) map[string]bool {
	set := map[string]bool{}
	for _, name := range names {
		set[name] = true
	}
	return set
}

// begin opens the placemark of a table's row. Its balloon shows the row.
func (m *mapper) begin(b []byte, t result.Table, i int, style string, shapes int) []byte {
	m.row = t.Row(m.run, i, m.row)
	if names := shortTold[t.Name]; m.large && names != nil {
		m.balloon = append(appendRows(append(m.balloon[:0], "<table>"...), t, m.row, names), "</table>"...)
	} else {
		m.balloon = appendBalloon(m.balloon[:0], t, m.row)
	}
	m.balloon = append(m.balloon, balloonCaution...)
	return m.open(b, t, style, shapes)
}

// appendDescription appends m.balloon as a placemark's description. In a large map its markup is not
// escaped, which takes a third less text.
func (m *mapper) appendDescription(b []byte) []byte {
	if !m.large {
		return appendElement(b, "description", m.balloon)
	}
	b = appendCDATA(append(b, "<description>"...), m.balloon)
	return append(b, "</description>"...)
}

// open opens a placemark with m.name, m.balloon, a style, the data of m.row, and the given number of
// shapes. A feature that has no shape left after rounding stays in the list without one.
func (m *mapper) open(b []byte, t result.Table, style string, shapes int) []byte {
	b = appendElement(append(b, "<Placemark>"...), "name", title(string(m.name)))
	b = m.appendDescription(b)
	b = append(append(append(b, "<styleUrl>#"...), style...), "</styleUrl>"...)
	if m.regions() {
		b = appendRegion(b, m.around, leastPixels)
		m.around = box{}
	}
	b = m.appendData(b, t, m.row)
	if shapes > 1 {
		b = append(b, "<MultiGeometry>"...)
	}
	return b
}

// end closes what begin opened.
func end(b []byte, shapes int) []byte {
	if shapes > 1 {
		b = append(b, "</MultiGeometry>"...)
	}
	return append(b, "</Placemark>\n"...)
}

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

// appendData appends the known values of a row; blank ones, and most of a large map in a KMZ, are left
// out. In a KML they are typed by their schema. In a KMZ, GDAL (3.6) and programs built on it find no
// schema, so the values have names of their own.
func (m *mapper) appendData(b []byte, t result.Table, row []result.Value) []byte {
	if !m.packed {
		return appendSchemaData(b, t, row)
	}
	var kept map[string]bool // nil for all
	if m.large {
		kept = leastData[t.Name]
	}
	start := len(b)
	b = append(b, "<ExtendedData>"...)
	empty := len(b)
	for k, v := range row {
		if blank(v) || kept != nil && !kept[t.Fields[k].Name] {
			continue
		}
		b = append(append(append(b, `<Data name="`...), t.Fields[k].Name...), `"><value>`...)
		b = append(appendSimple(b, v), "</value></Data>"...)
	}
	if len(b) == empty {
		return b[:start]
	}
	return append(b, "</ExtendedData>"...)
}

// polygons appends each polygon.
func (m *mapper) polygons(b []byte, all [][][]place) []byte {
	for _, rings := range all {
		b = m.ring(append(b, "<Polygon>"...), "outerBoundaryIs", rings[0])
		for _, hole := range rings[1:] {
			b = m.ring(b, "innerBoundaryIs", hole)
		}
		b = append(b, "</Polygon>"...)
	}
	return b
}

func (m *mapper) ring(b []byte, boundary string, r []place) []byte {
	b = append(append(append(b, '<'), boundary...), "><LinearRing>"...)
	b = appendCoordinates(b, r...)
	return append(append(append(b, "</LinearRing></"...), boundary...), '>')
}

// lines appends each line.
func (m *mapper) lines(b []byte, all [][]place) []byte {
	for _, l := range all {
		b = append(b, "<LineString><tessellate>1</tessellate>"...)
		b = appendCoordinates(b, m.thin.line(l)...)
		b = append(b, "</LineString>"...)
	}
	return b
}

func appendPoint(b []byte, p place) []byte {
	return append(appendCoordinates(append(b, "<Point>"...), p), "</Point>"...)
}
