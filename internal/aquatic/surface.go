package aquatic

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
)

// surfaces are the lakes and wide rivers drawn as areas. The edge of a surface is the bank of the
// streams that run through it.
type surfaces struct {
	areas    []orb.MultiPolygon // degrees, with copies for both sides of the antimeridian
	coverage *shape.Coverage
	edges    [][]int32 // by surface: the edges on it
}

func (w *Water) newSurfaces() surfaces {
	s := surfaces{edges: make([][]int32, len(w.net.Surfaces))}
	for i := range w.net.Surfaces {
		s.areas = append(s.areas, w.net.Surfaces[i].EveryTurn())
	}
	s.coverage = shape.NewCoverage(s.areas)
	for e, on := range w.net.On {
		if on >= 0 {
			s.edges[on] = append(s.edges[on], int32(e))
		}
	}
	return s
}

// onSurface reports whether the bank of an edge is that of a surface.
func (w *Water) onSurface(edge int32) bool { return w.net.On[edge] >= 0 }

// shore is a surface near a place, in metres around the place.
type shore struct {
	surface int32
	area    orb.MultiPolygon // cut off well beyond the searched ground
	water   []channel        // the centerlines on it, or else the nearest one
}

// degreesAround returns the box of degrees that extends half from a place in each direction.
func degreesAround(center orb.Point, half geo.Meters) orb.Bound {
	lon, lat := earth.LocalScale(center[1])
	x, y := padding*float64(half)/lon, padding*float64(half)/lat
	return orb.Bound{Min: orb.Point{center[0] - x, center[1] - y}, Max: orb.Point{center[0] + x, center[1] + y}}
}

// nearShores projects the surfaces within half of the middle in each direction.
func (v *view) nearShores(half geo.Meters) {
	v.shores = v.shores[:0]
	if len(v.w.surfaces.areas) == 0 {
		return
	}
	box := degreesAround(v.center, half)
	across, cover := v.w.surfaces.coverage.Meeting(box)
	if cover >= 0 {
		across = append(across, cover)
	}
	for _, s := range across {
		sh := shore{surface: s}
		sh.area, _ = shape.MakeValid(v.frame.Project(shape.Clip(v.w.surfaces.areas[s], degreesAround(v.center, 2*half))))
		edges := v.w.surfaces.edges[s]
		if len(edges) == 0 {
			if nearest, found := v.w.index().Nearest(v.center); found {
				edges = []int32{nearest.Line}
			}
		}
		for _, e := range edges {
			sh.water = append(sh.water, channel{edge: e, xy: v.frame.ProjectLine(v.w.net.Paths.At(int(e)))})
		}
		v.shores = append(v.shores, sh)
	}
}

// shoreBanks appends the nearest bank on each nearby shore: the distance from a patch to the edge
// of the water, and the place on the centerline nearest to the patch.
func (v *view) shoreBanks(p *patch) {
	for _, sh := range v.shores {
		var d geo.Meters
		if p.outline != nil {
			d = distanceBetween(p.outline, sh.area)
		} else {
			d = shape.DistanceToLine(sh.area, orb.LineString{p.Center})
		}
		bank := d - p.Radius
		p.bank = min(p.bank, bank)
		p.inside = p.inside || p.outline == nil && d+p.Radius <= v.w.setback
		own, found := bankOf{}, false
		for _, ch := range sh.water {
			segment, along, middle := linear.NearestOnLine(p.Center, ch.xy)
			if !found || middle < own.middle {
				own, found = bankOf{edge: ch.edge, segment: int32(segment), along: along, middle: middle, away: max(0, bank), shore: sh.surface + 1}, true
			}
		}
		if found {
			v.banks = append(v.banks, own)
		}
	}
}

// distanceBetween returns the shortest distance between two areas, 0 when they share a point.
func distanceBetween(a, b orb.MultiPolygon) geo.Meters {
	for _, polygon := range a {
		if len(polygon) > 0 && len(polygon[0]) > 0 && shape.Contains(b, polygon[0][0]) {
			return 0
		}
	}
	least := shape.DistanceToLine(a, nil)
	for _, polygon := range b {
		for _, ring := range polygon {
			least = min(least, shape.DistanceToLine(a, orb.LineString(ring)))
		}
	}
	return least
}

// shoreZones draws the zone of nearby shores where it can meet box.
func (v *view) shoreZones(box orb.Bound) []orb.MultiPolygon {
	var parts []orb.MultiPolygon
	around := box.Pad(float64(v.w.setback) + 1)
	for _, sh := range v.shores {
		if part, _ := shape.MakeValid(shape.Clip(sh.area, around)); len(part) > 0 {
			parts = append(parts, shape.BufferPolygon(part, v.w.setback, quadrantSegments))
		}
	}
	return parts
}
