package aquatic

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Touch is a record whose patch touches the zone or nearly does. It includes the place where the
// patch's fragments enter the water: the nearest place on the centerline with the nearest bank.
type Touch struct {
	Record int32
	InZone bool // the patch touches the zone
	Place  flow.Place
	Bank   geo.Meters // from the patch to the nearest bank, negative on the water
}

// Judge returns how one stand lies to the water, and which of its records touch the zone, or would
// touch it if it were wider by the margin. A patch known by its area is a true circle here;
// touching counts. Distances are measured in a frame centred on the stand: within 1e-6 up to 18 km
// across. Cost is the stand's points times the stream segments near them.
func (w *Water) Judge(st *stand.Stand, records []survey.Record, s stand.Settings) (Membership, []Touch) {
	if len(w.half) == 0 {
		return Membership{Line: -1, Place: flow.Place{Edge: -1}, WaterDistance: geo.Meters(math.Inf(1))}, nil
	}
	v := w.view(st, records, s)
	v.near(v.radius + w.farthest + w.setback + w.margin)
	v.measure()
	if v.bank > w.setback+w.margin {
		// the nearest bank is outside the searched ground: search as far as the centerline nearest to
		// the middle
		nearest, _ := w.index().Nearest(st.Center)
		v.near(v.radius + nearest.Distance + w.farthest)
		v.measure()
	}
	nearest := &v.patches[v.nearest]
	m := Membership{
		InZone: v.bank <= w.setback, WaterDistance: max(0, v.bank),
		Line: w.net.Net.Edges[nearest.edge].Line, Place: v.place(nearest), WidthAssumed: w.assumed[nearest.edge],
	}
	if m.InZone {
		m.Area = min(v.zoneArea(st.Infested), st.Infested)
	}
	return m, v.touches(st)
}

// view is one stand and the water near it, in metres around the stand.
type view struct {
	w       *Water
	center  orb.Point
	frame   earth.Frame
	patches []patch // by member
	radius  geo.Meters
	water   []channel
	shores  []shore
	bank    geo.Meters         // smallest signed distance from a patch to a bank
	nearest int                // the patch with the nearest bank; of several, the one whose middle is nearest to its centerline
	banks   []bankOf           // of the present patch
	met     map[int32]measured // by edge: those met so far
}

// measured is the path of an edge and its measures.
type measured struct {
	path     orb.LineString
	measures []geo.Meters
}

// edge measures an edge, once for all patches of the stand. Measured keeps the measures of long lines alone:
// those of a country would be half a gigabyte.
func (v *view) edge(e int32) measured {
	m, met := v.met[e]
	if !met {
		m.path, m.measures = v.w.net.Paths.Measured(int(e))
		if v.met == nil {
			v.met = map[int32]measured{}
		}
		v.met[e] = m
	}
	return m
}

// patch is a disc, or a drawn outline if outline is not nil.
type patch struct {
	shape.Disc
	outline orb.MultiPolygon
	edge    int32 // the centerline with the nearest bank
	segment int32 // its segment there, and the fraction along it
	along   float64
	middle  geo.Meters // from the middle to that centerline
	bank    geo.Meters // smallest signed distance to a bank
	inside  bool       // wholly within the zone of one segment
	shore   int32      // the surface whose edge is that bank, counted from 1; 0 for none
}

// channel is a run of a centerline.
type channel struct {
	edge  int32
	first int32 // index in the edge's path of the first vertex of xy
	xy    orb.LineString
}

// view projects the stand's patches.
func (w *Water) view(st *stand.Stand, records []survey.Record, s stand.Settings) *view {
	v := &view{w: w, center: st.Center, frame: earth.NewFrame(st.Center), patches: make([]patch, len(st.Members))}
	for i, m := range st.Members {
		p := &v.patches[i]
		if outline := records[m].Outline; outline != nil {
			p.outline, _ = shape.MakeValid(v.frame.Project(outline))
			for _, poly := range p.outline {
				for _, xy := range poly[0] {
					v.radius = max(v.radius, geo.Meters(math.Hypot(xy[0], xy[1])))
				}
			}
			p.Center = v.frame.Forward(records[m].Position)
			continue
		}
		p.Disc = shape.DiscOfArea(v.frame.Forward(records[m].Position), stand.PatchOf(records[m], s).Area)
		v.radius = max(v.radius, geo.Meters(math.Hypot(p.Center[0], p.Center[1]))+p.Radius)
	}
	return v
}

// near projects the centerlines within half of the middle in each direction.
func (v *view) near(half geo.Meters) {
	v.nearShores(half)
	v.water = v.water[:0]
	for _, run := range v.w.index().Near(v.center, half) {
		path := v.w.net.Paths.At(int(run.Line))[run.First : run.Last+1]
		xy := v.frame.ProjectLine(path)
		v.water = append(v.water, channel{edge: run.Line, first: run.First, xy: xy})
	}
}

// measure finds the water each patch belongs to, and the nearest bank of all patches.
func (v *view) measure() {
	v.bank = geo.Meters(math.Inf(1))
	for i := range v.patches {
		p := &v.patches[i]
		v.lay(p)
		v.bank = min(v.bank, p.bank)
		if best := &v.patches[v.nearest]; i == 0 || max(0, p.bank) < max(0, best.bank) || max(0, p.bank) == max(0, best.bank) && p.middle < best.middle {
			v.nearest = i
		}
	}
}

// lay finds the water that a patch belongs to, and its nearest bank; false if there is none.
func (v *view) lay(p *patch) bool {
	p.inside, p.bank = false, geo.Meters(math.Inf(1))
	v.banks = v.banks[:0]
	for c := range v.water {
		ch := &v.water[c]
		segment, along, d := linear.NearestOnLine(p.Center, ch.xy)
		bank := v.edgeDistance(p, d, ch) - v.w.half[ch.edge]
		p.bank = min(p.bank, bank)
		p.inside = p.inside || p.outline == nil && d+p.Radius <= v.w.reach(ch.edge)
		v.banks = append(v.banks, bankOf{edge: ch.edge, segment: ch.first + int32(segment), along: along, middle: d, away: max(0, bank)})
	}
	v.shoreBanks(p)
	own, found := v.w.choose(v.banks)
	if found {
		p.edge, p.segment, p.along, p.middle, p.shore = own.edge, own.segment, own.along, own.middle, own.shore
	}
	return found
}

// edgeDistance is the distance from a patch's edge to a channel's centerline. d is the distance
// from the patch's middle.
func (v *view) edgeDistance(p *patch, d geo.Meters, ch *channel) geo.Meters {
	if p.outline != nil {
		return shape.DistanceToLine(p.outline, ch.xy)
	}
	return max(0, d-p.Radius)
}

// touches lists the records that touch the zone, or nearly do, with their places on the water.
func (v *view) touches(st *stand.Stand) []Touch {
	near := func(p *patch) bool { return p.bank <= v.w.setback+v.w.margin }
	n := 0
	for i := range v.patches {
		if near(&v.patches[i]) {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	out := make([]Touch, 0, n) // they are held to the end
	for i := range v.patches {
		if p := &v.patches[i]; near(p) {
			out = append(out, Touch{Record: st.Members[i], Place: v.place(p), Bank: p.bank, InZone: p.bank <= v.w.setback})
		}
	}
	return out
}

// upTo returns the path of an edge and the measure of one of its vertices.
func (v *view) upTo(edge, vertex int32) (orb.LineString, geo.Meters) {
	if len(v.patches) < 2 { // an edge is asked for once or twice
		return v.w.net.Paths.MeasureOf(int(edge), int(vertex))
	}
	on := v.edge(edge)
	return on.path, on.measures[vertex]
}

// place converts a segment and fraction into an offset along the edge.
func (v *view) place(p *patch) flow.Place {
	path, at := v.upTo(p.edge, p.segment)
	if int(p.segment)+1 < len(path) {
		at += geo.Meters(p.along) * earth.Distance(path[p.segment], path[p.segment+1])
	}
	edge := v.w.net.Net.Edges[p.edge]
	if span := edge.End - edge.Start; span > 0 {
		at *= edge.Length / span
	}
	return flow.Place{Edge: p.edge, Offset: min(at, edge.Length)}
}
