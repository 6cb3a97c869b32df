package aquatic

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// quadrantSegments draws the zone as finely as the patches it is cut with: a circle's area is then
// right within 0.04 %. Our choice.
const quadrantSegments = 32

// zoneArea returns the area common to footprint F and zone Z. Let I be the discs wholly within the
// zone, C those across its edge and O those outside. With every I in Z and no O in Z,
//
//	area(F n Z) = area(I u C) - area(C) + area(C n Z)
//
// so that only the discs across the edge need the zone's outline. Without any O the area of I u C
// is the stand's infested area.
func (v *view) zoneArea(infested geo.SquareMeters) geo.SquareMeters {
	if slices.ContainsFunc(v.patches, func(p patch) bool { return p.outline != nil }) {
		return v.drawnArea()
	}
	var within, across []shape.Disc
	for i := range v.patches {
		switch p := &v.patches[i]; {
		case p.inside:
			within = append(within, p.Disc)
		case p.bank <= v.w.setback:
			across = append(across, p.Disc)
		}
	}
	whole := len(within)+len(across) == len(v.patches)
	switch {
	case len(across) == 0 && whole:
		return infested
	case len(across) == 0:
		return geo.PolygonArea(shape.SketchDiscs(within))
	}
	edge := shape.SketchDiscs(across)
	common := shape.IntersectionArea(edge, v.zoneAround(edge.Bound()))
	if len(within) == 0 {
		return common
	}
	if !whole {
		infested = geo.PolygonArea(shape.SketchDiscs(append(within, across...)))
	}
	return max(0, infested-geo.PolygonArea(edge)+common)
}

// drawnArea is the same for stands with drawn outlines, computed from whole polygons. The discs are
// united first, since the polygon library takes long for thousands of them.
func (v *view) drawnArea() geo.SquareMeters {
	var parts []orb.MultiPolygon
	var discs []shape.Disc
	for i := range v.patches {
		if p := &v.patches[i]; p.outline != nil {
			parts = append(parts, p.outline)
		} else {
			discs = append(discs, p.Disc)
		}
	}
	if len(discs) > 0 {
		parts = append(parts, shape.UnionDiscs(discs))
	}
	footprint := shape.Union(parts, 1)
	return shape.IntersectionArea(footprint, v.zoneAround(footprint.Bound()))
}

// Around returns the zone where it can meet box, in the metres of a frame centred on a point in
// degrees. Cost grows with the stream segments near box.
func (w *Water) Around(center orb.Point, box orb.Bound) orb.MultiPolygon {
	if len(w.half) == 0 {
		return nil
	}
	v := view{w: w, center: center, frame: earth.NewFrame(center)}
	half := math.Hypot(max(-box.Min[0], box.Max[0]), max(-box.Min[1], box.Max[1]))
	v.near(geo.Meters(half) + w.farthest + w.setback)
	return v.zoneAround(box)
}

// zoneAround draws the zone where it can meet box: the buffers of the segments whose zone reaches
// box.
func (v *view) zoneAround(box orb.Bound) orb.MultiPolygon {
	var lines []orb.LineString
	var reach []geo.Meters
	for c := range v.water {
		ch := &v.water[c]
		if v.w.onSurface(ch.edge) {
			continue // the zone of the surface includes it
		}
		r := v.w.reach(ch.edge)
		for _, l := range within(ch.xy, box.Pad(float64(r))) {
			lines, reach = append(lines, l), append(reach, r)
		}
	}
	zone := shape.BufferLines(lines, reach, quadrantSegments, 1)
	if len(v.shores) == 0 {
		return zone
	}
	return shape.Union(append(v.shoreZones(box), zone), 1)
}

// within returns the stretches of a line whose segments' boxes meet box.
func within(xy orb.LineString, box orb.Bound) orb.MultiLineString {
	var out orb.MultiLineString
	open := false
	for i := 1; i < len(xy); i++ {
		segment := orb.Bound{
			Min: orb.Point{min(xy[i-1][0], xy[i][0]), min(xy[i-1][1], xy[i][1])},
			Max: orb.Point{max(xy[i-1][0], xy[i][0]), max(xy[i-1][1], xy[i][1])},
		}
		switch near := segment.Intersects(box); {
		case near && open:
			out[len(out)-1] = append(out[len(out)-1], xy[i])
		case near:
			out = append(out, orb.LineString{xy[i-1], xy[i]})
			open = true
		default:
			open = false
		}
	}
	return out
}
