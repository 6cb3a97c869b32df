package mapfile

import (
	"strconv"

	"github.com/paulmach/orb"
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/drift"
	"driftreach/internal/result"
)

// balloonCaution closes every description, for viewers that show nothing else.
const balloonCaution = "<p>Planning aid only: the product label is the law, and local rules and permits decide. More cautions are in the map's own description.</p>"

// feature returns the placemark of a table's row but for its geometry.
func (m *mapper) feature(t result.Table, i int, name, style string) *kml.PlacemarkElement {
	m.row = t.Row(m.run, i, m.row)
	return kml.Placemark(
		kml.Name(name),
		kml.Description(balloonTable(t, m.row)+balloonCaution),
		kml.StyleURL("#"+style),
		schemaData(t, m.row),
	)
}

// mapper makes placemarks; one a goroutine.
type mapper struct {
	run  *result.Run
	thin thinner
	row  []result.Value
}

// stand returns the placemark of stand i, named "3. 2026Q3-0007 (1.2 acres)":
// its place in the treatment order first. A point goes with the outline because
// most viewers put names on points only.
func (m *mapper) stand(t result.Table, i int) kml.Element {
	s := &m.run.Stands[i]
	name := strconv.Itoa(s.Plan.Order) + ". " + s.ID +
		" (" + short(float64(s.Infested.Acres())) + " acres)"
	p := m.feature(t, i, name, standLook(s.Status, s.Zone.InZone).id)
	shapes := m.polygons(s.Footprint.Polygons())
	if finite(s.Center) {
		shapes = append([]kml.Element{kml.Point(kml.Coordinates(coordinate(wrapped(s.Center))))}, shapes...)
	}
	return withGeometry(p, shapes)
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

// reach returns the placemark of piece i of the reach at risk.
func (m *mapper) reach(t result.Table, i int) kml.Element {
	r := &m.run.Reaches[i]
	name := "stream"
	if r.Line >= 0 && int(r.Line) < len(m.run.Centerlines) {
		line := &m.run.Centerlines[r.Line]
		name = line.Name
		if name == "" {
			name = line.ID
		}
	}
	name += ", km " + strconv.FormatFloat(r.FromKm, 'f', 2, 64) + " to " + strconv.FormatFloat(r.ToKm, 'f', 2, 64)
	return withGeometry(m.feature(t, i, name, reachLook(r.Class).id), m.lines(r.Path))
}

// zone returns the placemark of water body i's zone.
func (m *mapper) zone(t result.Table, i int) kml.Element {
	z := &m.run.Zones[i]
	name := z.WaterBody
	if name == "" {
		name = "streams without a name"
	}
	return withGeometry(m.feature(t, i, "Aquatic zone, "+name, zoneLook().id), m.polygons(z.Geometry))
}

// withGeometry adds the shapes, gathered when there are several; a feature that
// rounding left without a shape stays in the list without one.
func withGeometry(p *kml.PlacemarkElement, shapes []kml.Element) kml.Element {
	switch len(shapes) {
	case 0:
		return p
	case 1:
		return p.Append(shapes[0])
	}
	return p.Append(kml.MultiGeometry(shapes...))
}

func (m *mapper) polygons(mp orb.MultiPolygon) []kml.Element {
	var all []kml.Element
	for _, rings := range polygons(mp) {
		p := kml.Polygon(kml.OuterBoundaryIs(m.ring(rings[0])))
		for _, hole := range rings[1:] {
			p.Append(kml.InnerBoundaryIs(m.ring(hole)))
		}
		all = append(all, p)
	}
	return all
}

func (m *mapper) ring(r []place) kml.Element {
	return kml.LinearRing(kml.Coordinates(coordinates(m.thin.ring(r))...))
}

func (m *mapper) lines(ls orb.LineString) []kml.Element {
	var all []kml.Element
	for _, l := range lines(ls) {
		all = append(all, kml.LineString(kml.Tessellate(true), kml.Coordinates(coordinates(m.thin.line(l))...)))
	}
	return all
}

func coordinate(p place) kml.Coordinate { return kml.Coordinate{Lon: p.lon(), Lat: p.lat()} }

func coordinates(path []place) []kml.Coordinate {
	out := make([]kml.Coordinate, len(path))
	for i, p := range path {
		out[i] = coordinate(p)
	}
	return out
}

// classFolders names the folders of the reach at risk, worst first.
var classFolders = [...]struct {
	name  string
	class drift.Class
}{{"High", drift.High}, {"Moderate", drift.Moderate}, {"Low", drift.Low}}
