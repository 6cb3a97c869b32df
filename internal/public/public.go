// Package public makes the public edition of a batch's result: the same stands, acres, order and
// visits, without anything about people, and with coarsened places. The rules:
//
//   - A place becomes the middle of its grid square. The grid has equal-area squares in the
//     plane of EPSG:6933, counted from the equator and Greenwich, and is the same for every
//     batch and programme.
//   - A shape becomes the squares that it overlaps: shapes of stands and their parts, of
//     surveyed ground and of planned works.
//   - A reach runs between the middles of the squares that it passes. If it is in a single
//     square, it is drawn half a square long. Kilometres of stands and reaches are rounded to
//     whole grid steps. Streams, zones and totals stay as they are.
//   - Records get numbers as ids, since ids may contain names of files and people. Observers,
//     parcels, remarks, carried columns, contacts, applicators, licences, photographs, and
//     what a finding quotes from the input are left out.
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
	"driftreach/internal/lineage"
	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
	"driftreach/internal/work"
)

// Edition returns the public edition of run, on a grid of squares with the given side in metres. It
// shares no memory with run that either changes. It takes n log n time in the number of vertices.
func Edition(run *result.Run, side geo.Meters) *result.Run {
	out, g := *run, grid{earth.NewEqualAreaCylinder(), float64(side)}
	out.Coarse, out.ExtraColumns, out.Crew, out.Events = side, nil, crew.DefaultSettings(), nil
	out.Records.Listed = g.records(run.Records.Listed)
	out.Stands = g.stands(run.Stands)
	out.Reaches = slices.Clone(run.Reaches)
	for i := range out.Reaches {
		out.Reaches[i].Path = g.line(out.Reaches[i].Path)
	}
	out.Surveyed = lineage.PiecesOf(g.shape(run.Surveyed.All()), nil)
	out.Visits = slices.Clone(run.Visits)
	for i := range out.Visits {
		row := *out.Visits[i].Row
		v := &row
		out.Visits[i].Row = v
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
		out.Notices[i].Distance = geo.Meters(math.NaN()) // the other end of the distance may be publicly known
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

// grid is the grid: its projection, and the side of its squares in metres.
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

// place returns the middle of the square that contains a place.
func (g grid) place(p orb.Point) orb.Point {
	if !result.OnEarth(&p) {
		return p
	}
	at := g.back(cells.At(g.to(p)).Middle())
	at[0] = earth.Wrap(at[0])
	return at
}

// shape returns the squares that an area overlaps; nil if there are none.
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

// line returns a line between the middles of squares.
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
		r.ID, r.File, r.Row, r.Notes = strconv.Itoa(i+1), "", 0, ""
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
		s.Drift.RiverKm = g.km(s.Drift.RiverKm)
		for _, o := range []**drift.Outcome{&s.Flood, &s.Waiting, &s.Treated} {
			if *o != nil {
				own := **o
				own.RiverKm, *o = g.km(own.RiverKm), &own
			}
		}
	}
	return out
}

// known coarsens the position and shape of a stand.
func (g grid) known(s *stand.Stand) {
	s.Center, s.Inside = g.place(s.Place()), orb.Point{}
	s.Footprint = stand.Pack(g.shape(s.Footprint.Polygons()))
}

func (g grid) part(p *followup.Part) {
	if p.Cut != nil {
		p.Cut = &followup.Cut{Ground: g.shape(p.Cut.Ground), At: g.place(p.Cut.At), Rest: g.shape(p.Cut.Rest), RestAt: g.place(p.Cut.RestAt)}
	}
}

func (g grid) km(k geo.Kilometers) geo.Kilometers {
	if math.IsNaN(float64(k)) {
		return k
	}
	return geo.Meters(g.side).Steps(k)
}

// past coarsens what is known of the previous quarter and of stands not found since.
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

// work returns a planned work with its dates and kind but without its owner.
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

// plan returns the plan without the reasons why stands are held back, which may name owners.
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

// quiet returns a stretch without how to get there.
func quiet(s stretch.Stretch) stretch.Stretch {
	s.Access = nil
	return s
}

// leftOut replaces texts from the input.
const leftOut = "left out of a public edition"

// findings returns the findings without the records they are about.
func findings(all []check.Finding) []check.Finding {
	out := make([]check.Finding, len(all))
	for i, f := range all {
		out[i] = check.Finding{Rule: f.Rule, Message: leftOut}
	}
	return out
}
