package earth

import (
	"math"
	"slices"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// CutPolygon returns polygons in degrees, whose longitudes may run past +-180, as polygons within
// [-180, 180], cut exactly on the antimeridian. The latitude of a cut is interpolated along the
// edge. Outer rings become counter-clockwise, holes clockwise, all closed. Rings must not cross
// themselves or each other and must not go round a pole. RFC 7946, sections 3.1.6 and 3.1.9.
// Linear, and n log n in the crossings.
func CutPolygon(mp orb.MultiPolygon) orb.MultiPolygon {
	out := make(orb.MultiPolygon, 0, len(mp))
	for _, p := range mp {
		if len(p) > 0 && len(p[0]) > 2 {
			out = cutTurns(out, wound(p))
		}
	}
	return out
}

// cutTurns appends p, turn by turn from west to east.
func cutTurns(out orb.MultiPolygon, p orb.Polygon) orb.MultiPolygon {
	west, east := lonRange(p[0])
	turn := math.Floor((west + 180) / 360)
	edge := 180 + 360*turn
	if east <= edge {
		return append(out, shiftedPolygon(p, turn))
	}
	for _, piece := range westOf(p, edge) {
		out = append(out, shiftedPolygon(piece, turn))
	}
	for _, piece := range westOf(mirrored(p), -edge) {
		out = cutTurns(out, mirrored(piece))
	}
	return out
}

// wound returns p with closed rings, the outer one counter-clockwise and holes clockwise. Rings
// that already are so are shared, not copied.
func wound(p orb.Polygon) orb.Polygon {
	out := make(orb.Polygon, len(p))
	for i, r := range p {
		if len(r) > 0 && r[0] != r[len(r)-1] {
			r = append(slices.Clip(r), r[0])
		}
		if (geo.RingArea(r) < 0) == (i == 0) {
			r = slices.Clone(r)
			slices.Reverse(r)
		}
		out[i] = r
	}
	return out
}

// shiftedPolygon returns p moved west by whole turns.
func shiftedPolygon(p orb.Polygon, turns float64) orb.Polygon {
	if turns == 0 {
		return p
	}
	out := make(orb.Polygon, len(p))
	for i, r := range p {
		out[i] = each(r, func(v orb.Point) orb.Point { return shifted(v, turns) })
	}
	return out
}

// mirrored returns p with east and west exchanged and the winding kept.
func mirrored(p orb.Polygon) orb.Polygon {
	out := make(orb.Polygon, len(p))
	for i, r := range p {
		out[i] = each(r, func(v orb.Point) orb.Point { return orb.Point{-v[0], v[1]} })
		slices.Reverse(out[i])
	}
	return out
}
