// Package public makes of one batch's answer what may be handed to anybody: the same
// stands, acres, order and visits, without anything about people, and with places
// coarsened. The rules:
//
//   - Places are the middles of the squares of a grid that they lie in. The grid is of
//     equal area, the same for every batch and programme: squares of the plane of
//     EPSG:6933, counted from the equator and Greenwich.
//   - Shapes of stands, of their parts, of ground looked at and of planned works are the
//     squares that they have ground in.
//   - Reaches run from middle to middle of the squares that they pass; one that lies in a
//     single square is drawn half a square long. Kilometres of stands and reaches are in
//     whole steps of the grid. Streams, zones and sums stay as they are.
//   - Records have numbers for ids, since ids hold names of files and people. Observers,
//     parcels, remarks, carried columns, contacts, applicators, licences, photographs,
//     and what a finding quotes of the input are left out.
package public

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/cells"
	"driftreach/geo/earth"
	"driftreach/internal/check"
	"driftreach/internal/crew"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
	"driftreach/internal/work"
)

// Edition returns run as anybody may have it, on a grid of that many metres. It shares no
// memory with run that either changes. n log n in vertices.
func Edition(run *result.Run, side geo.Meters) *result.Run {
	out, g := *run, grid{earth.NewEqualAreaCylinder(), float64(side)}
	out.Coarse, out.ExtraColumns, out.Crew, out.Events = side, nil, crew.DefaultSettings(), nil
	out.Records = g.records(run.Records)
	out.Stands = g.stands(run.Stands)
	out.Reaches = slices.Clone(run.Reaches)
	for i := range out.Reaches {
		out.Reaches[i].Path = g.line(out.Reaches[i].Path)
	}
	out.Surveyed = g.shape(run.Surveyed)
	out.Visits = slices.Clone(run.Visits)
	for i := range out.Visits {
		v := &out.Visits[i]
		v.Place.Position, v.Place.Parcel = g.place(v.Place.Position), ""
		g.part(&v.Done)
	}
	g.past(&out)
	out.Works = slices.Clone(run.Works)
	for i := range out.Works {
		out.Works[i] = g.work(&out.Works[i])
	}
	out.Notices = slices.Clone(run.Notices)
	for i := range out.Notices {
		out.Notices[i].Distance = geo.Meters(math.NaN()) // to a place that is known to others
	}
	out.Treatments = slices.Clone(run.Treatments)
	for i := range out.Treatments {
		g.treatment(&out.Treatments[i])
	}
	out.Stretches = slices.Clone(run.Stretches)
	for i := range out.Stretches {
		out.Stretches[i] = quiet(out.Stretches[i])
	}
	out.Plan = g.plan(run.Plan)
	out.Findings = findings(run.Findings)
	return &out
}

// grid is the grid: the plane, and the side of its squares in metres.
type grid struct {
	plane earth.EqualAreaCylinder
	side  float64
}

func (g grid) to(p orb.Point) orb.Point {
	xy := g.plane.Forward(p)
	return orb.Point{xy[0] / g.side, xy[1] / g.side}
}

func (g grid) back(p orb.Point) orb.Point {
	return g.plane.Inverse(orb.Point{p[0] * g.side, p[1] * g.side})
}

// place returns the middle of the square that a place lies in.
func (g grid) place(p orb.Point) orb.Point {
	if !result.OnEarth(&p) {
		return p
	}
	at := g.back(cells.At(g.to(p)).Middle())
	at[0] = earth.Wrap(at[0])
	return at
}

// shape returns the squares that an area has ground in, nil for none.
func (g grid) shape(area orb.MultiPolygon) orb.MultiPolygon {
	if len(area) == 0 {
		return area
	}
	there := make(orb.MultiPolygon, len(area))
	for i, polygon := range area {
		for _, ring := range polygon {
			there[i] = append(there[i], orb.Ring(g.each(orb.LineString(ring), g.to)))
		}
	}
	out := cells.Cover(there).Outline()
	for _, polygon := range out {
		for k, ring := range polygon {
			polygon[k] = orb.Ring(g.each(orb.LineString(ring), g.back))
		}
	}
	return out
}

func (g grid) each(line orb.LineString, to func(orb.Point) orb.Point) orb.LineString {
	out := make(orb.LineString, len(line))
	for i, p := range line {
		out[i] = to(p)
	}
	return out
}

// line returns a line from middle to middle.
func (g grid) line(path orb.LineString) orb.LineString {
	var out orb.LineString
	var last cells.Cell
	for i, p := range path {
		if c := cells.At(g.to(p)); i == 0 || c != last {
			out, last = append(out, g.back(c.Middle())), c
		}
	}
	if len(out) == 1 {
		m := last.Middle()
		out = append(out, g.back(orb.Point{m[0] + 0.5, m[1]}))
	}
	return out
}

func (g grid) records(all []survey.Record) []survey.Record {
	out := slices.Clone(all)
	for i := range out {
		r := &out[i]
		r.ID, r.File, r.Row, r.Notes = strconv.Itoa(i+1), "", 0, nil
		r.Position, r.Outline = g.place(r.Position), nil
	}
	return out
}

func (g grid) stands(all []result.Stand) []result.Stand {
	out := slices.Clone(all)
	for i := range out {
		s := &out[i]
		g.known(&s.Stand)
		g.part(&s.Done)
		for _, o := range []*drift.Outcome{&s.Drift, &s.Flood, &s.Waiting, &s.Treated} {
			o.RiverKm = g.km(o.RiverKm)
		}
	}
	return out
}

// known coarsens where a stand is, known now or before.
func (g grid) known(s *stand.Stand) {
	s.Center = g.place(s.Footprint.Inside(s.Center))
	s.Footprint = stand.Pack(g.shape(s.Footprint.Polygons()))
}

func (g grid) part(p *followup.Part) {
	p.At, p.RestAt = g.place(p.At), g.place(p.RestAt)
	p.Ground, p.Rest = g.shape(p.Ground), g.shape(p.Rest)
}

func (g grid) km(k geo.Kilometers) geo.Kilometers {
	if math.IsNaN(float64(k)) {
		return k
	}
	return geo.Meters(g.side).Steps(k)
}

// past coarsens what is known of the quarter before and of stands not found since.
func (g grid) past(out *result.Run) {
	for i := range out.Visits {
		out.Visits[i].Place.RiverKm = g.km(out.Visits[i].Place.RiverKm)
	}
	out.Absent = slices.Clone(out.Absent)
	for i := range out.Absent {
		a := &out.Absent[i]
		g.known(&a.Stand)
		a.RiverKm, a.Was = g.km(a.RiverKm), nil
	}
	if out.Previous == nil {
		return
	}
	before := *out.Previous
	before.Known = slices.Clone(before.Known)
	for i := range before.Known {
		k := &before.Known[i]
		g.known(&k.Stand)
		k.RiverKm, k.Was = g.km(k.RiverKm), nil
	}
	out.Previous = &before
}

// work is a planned work of others: when and of what kind, not whose.
func (g grid) work(w *work.Work) work.Work {
	out := work.Work{ID: w.ID, Kind: w.Kind, Start: w.Start, End: w.End}
	var all []cells.Cell
	for _, path := range w.Paths() {
		there := g.each(path, g.to)
		if len(there) == 1 {
			all = append(all, cells.At(there[0]))
			continue
		}
		all = append(all, cells.Along(there)...)
	}
	for _, polygon := range w.Areas {
		rings := orb.Polygon{}
		for _, ring := range polygon {
			rings = append(rings, orb.Ring(g.each(orb.LineString(ring), g.to)))
		}
		all = append(all, cells.Cover(orb.MultiPolygon{rings})...)
	}
	out.Areas = cells.Of(all).Outline()
	for _, polygon := range out.Areas {
		for k, ring := range polygon {
			polygon[k] = orb.Ring(g.each(orb.LineString(ring), g.back))
		}
	}
	return out
}

func (g grid) treatment(t *result.Treatment) {
	t.File, t.Row, t.Key = "", 0, ""
	t.Applicator, t.Licence, t.Start, t.End, t.Photos = "", "", "", "", ""
	if t.Placed {
		t.Position = g.place(t.Position)
	}
	t.Ground = g.shape(t.Ground)
}

// plan is the plan without whose ground it is that cannot be treated.
func (g grid) plan(p *plan.Plan) *plan.Plan {
	if p == nil {
		return nil
	}
	out := *p
	out.Rows, out.Held = slices.Clone(p.Rows), slices.Clone(p.Held)
	for i := range out.Rows {
		out.Rows[i].At = g.place(out.Rows[i].At)
	}
	for i := range out.Held {
		if !strings.HasPrefix(out.Held[i].Why, plan.NotLookedAt) {
			out.Held[i].Why = leftOut
		}
	}
	return &out
}

// quiet is a stretch without how to come there.
func quiet(s stretch.Stretch) stretch.Stretch {
	s.Access = nil
	return s
}

// leftOut stands for words of others.
const leftOut = "left out of a public edition"

// findings are what rules met, without the records that met them.
func findings(all []check.Finding) []check.Finding {
	out := make([]check.Finding, len(all))
	for i, f := range all {
		out[i] = check.Finding{Rule: f.Rule, Message: leftOut}
	}
	return out
}
