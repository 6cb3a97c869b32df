package mapfile

import (
	"strconv"

	"github.com/paulmach/orb"

	"driftreach/internal/drift"
	"driftreach/internal/result"
)

// balloonCaution closes every description, for viewers that show nothing else.
const balloonCaution = "<p>Planning aid only: the product label is the law, and local rules and permits decide. More cautions are in the map's own description.</p>"

// mapper appends placemarks; one a goroutine.
type mapper struct {
	run     *result.Run
	thin    thinner
	row     []result.Value
	name    []byte
	balloon []byte
	shapes  []byte
}

// placemark appends the placemark of a table's row: m.name, what the row says,
// a style, and so many shapes that were gathered in m.shapes. A feature that
// rounding left without a shape stays in the list without one.
func (m *mapper) placemark(b []byte, t result.Table, i int, style string, shapes int) []byte {
	m.row = t.Row(m.run, i, m.row)
	m.balloon = append(appendBalloon(m.balloon[:0], t, m.row), balloonCaution...)
	b = appendElement(append(b, "<Placemark>"...), "name", m.name)
	b = appendElement(b, "description", m.balloon)
	b = append(append(append(b, "<styleUrl>#"...), style...), "</styleUrl>"...)
	b = appendSchemaData(b, t, m.row)
	if shapes > 1 {
		b = append(b, "<MultiGeometry>"...)
	}
	b = append(b, m.shapes...)
	if shapes > 1 {
		b = append(b, "</MultiGeometry>"...)
	}
	return append(b, "</Placemark>\n"...)
}

// stand appends the placemark of stand i, named "3. 2026Q3-0007 (1.2 acres)":
// its place in the treatment order first. A point goes with the outline because
// most viewers put names on points only.
func (m *mapper) stand(b []byte, t result.Table, i int) []byte {
	s := &m.run.Stands[i]
	m.name = strconv.AppendInt(m.name[:0], int64(s.Plan.Order), 10)
	m.name = append(append(append(m.name, ". "...), s.ID...), " ("...)
	m.name = append(append(m.name, short(float64(s.Infested.Acres()))...), " acres)"...)
	m.shapes = m.shapes[:0]
	points := 0
	if finite(s.Center) {
		m.shapes, points = appendPoint(m.shapes, wrapped(s.Center)), 1
	}
	shapes := points + m.polygons(s.Footprint.Polygons())
	return m.placemark(b, t, i, standLook(s.Status, s.Zone.InZone).id, shapes)
}

// short returns x with two significant digits or, from 10 up, as a whole number.
func short(x float64) string {
	if x >= 10 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	digits := 1
	for scale := x; scale > 0 && scale < 1 && digits < 4; scale *= 10 {
		digits++
	}
	return strconv.FormatFloat(x, 'f', digits, 64)
}

// reach appends the placemark of piece i of the reach at risk.
func (m *mapper) reach(b []byte, t result.Table, i int) []byte {
	r := &m.run.Reaches[i]
	name := "stream"
	if r.Line >= 0 && int(r.Line) < len(m.run.Centerlines) {
		line := &m.run.Centerlines[r.Line]
		name = line.Name
		if name == "" {
			name = line.ID
		}
	}
	m.name = append(append(m.name[:0], name...), ", km "...)
	m.name = append(strconv.AppendFloat(m.name, r.FromKm, 'f', 2, 64), " to "...)
	m.name = strconv.AppendFloat(m.name, r.ToKm, 'f', 2, 64)
	m.shapes = m.shapes[:0]
	shapes := m.lines(r.Path)
	return m.placemark(b, t, i, reachLook(r.Class).id, shapes)
}

// zone appends the placemark of water body i's zone.
func (m *mapper) zone(b []byte, t result.Table, i int) []byte {
	z := &m.run.Zones[i]
	name := z.WaterBody
	if name == "" {
		name = "streams without a name"
	}
	m.name = append(append(m.name[:0], "Aquatic zone, "...), name...)
	m.shapes = m.shapes[:0]
	shapes := m.polygons(z.Geometry)
	return m.placemark(b, t, i, zoneLook().id, shapes)
}

// polygons gathers mp in m.shapes and returns how many polygons it came to.
func (m *mapper) polygons(mp orb.MultiPolygon) int {
	all := polygons(mp)
	for _, rings := range all {
		m.shapes = append(m.shapes, "<Polygon>"...)
		m.shapes = m.ring(m.shapes, "outerBoundaryIs", rings[0])
		for _, hole := range rings[1:] {
			m.shapes = m.ring(m.shapes, "innerBoundaryIs", hole)
		}
		m.shapes = append(m.shapes, "</Polygon>"...)
	}
	return len(all)
}

func (m *mapper) ring(b []byte, boundary string, r []place) []byte {
	b = append(append(append(b, '<'), boundary...), "><LinearRing>"...)
	b = appendCoordinates(b, m.thin.ring(r)...)
	return append(append(append(b, "</LinearRing></"...), boundary...), '>')
}

// lines gathers ls in m.shapes and returns how many lines it came to.
func (m *mapper) lines(ls orb.LineString) int {
	all := lines(ls)
	for _, l := range all {
		m.shapes = append(m.shapes, "<LineString><tessellate>1</tessellate>"...)
		m.shapes = appendCoordinates(m.shapes, m.thin.line(l)...)
		m.shapes = append(m.shapes, "</LineString>"...)
	}
	return len(all)
}

func appendPoint(b []byte, p place) []byte {
	return append(appendCoordinates(append(b, "<Point>"...), p), "</Point>"...)
}

// classFolders names the folders of the reach at risk, worst first.
var classFolders = [...]struct {
	name  string
	class drift.Class
}{{"High", drift.High}, {"Moderate", drift.Moderate}, {"Low", drift.Low}}
