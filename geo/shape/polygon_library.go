// Package shape makes and measures planar areas: discs, buffers, unions, intersections and
// closings. Coordinates are metres in a local frame (orb types), lengths and areas are metres and
// square metres of that frame.
//
// Only this package uses the polygon library. Every area it returns is in normal form: rings
// closed, exteriors counter-clockwise, holes clockwise, each ring from its smallest vertex (x, then
// y), polygons sorted by their first vertices. So the same set of inputs gives the same bytes.
package shape

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// toRing returns r in the library's types, or false when it is not a ring with an area: fewer than
// three corners, or a coordinate that is not finite.
func toRing(r orb.Ring) (geom.LineString, bool) {
	if len(r) < 3 {
		return geom.LineString{}, false
	}
	flat, ok := flatten(r)
	if !ok {
		return geom.LineString{}, false
	}
	if r[0] != r[len(r)-1] {
		flat = append(flat, r[0][0], r[0][1])
	}
	if len(flat) < 8 {
		return geom.LineString{}, false
	}
	return geom.NewLineString(geom.NewSequence(flat, geom.DimXY)), true
}

// flatten returns the coordinates one after another; false when one is not
// finite.
func flatten(points []orb.Point) ([]float64, bool) {
	// The library requires a sequence without spare capacity.
	flat := make([]float64, 0, 2*len(points))
	for _, p := range points {
		if !finite(p) {
			return nil, false
		}
		flat = append(flat, p[0], p[1])
	}
	return flat, true
}

func finite(p orb.Point) bool {
	return !math.IsNaN(p[0]-p[0]) && !math.IsNaN(p[1]-p[1])
}

// toGeometry returns mp in the library's types, without the rings that have no area.
func toGeometry(mp orb.MultiPolygon) geom.Geometry {
	polygons := make([]geom.Polygon, 0, len(mp))
	for _, p := range mp {
		rings := make([]geom.LineString, 0, len(p))
		for i, r := range p {
			ring, ok := toRing(r)
			if !ok && i == 0 {
				break
			}
			if ok {
				rings = append(rings, ring)
			}
		}
		if len(rings) > 0 {
			polygons = append(polygons, geom.NewPolygon(rings))
		}
	}
	return geom.NewMultiPolygon(polygons).AsGeometry()
}

// fromGeometry returns the polygons of g in normal form; its points and lines
// have no area and are dropped.
func fromGeometry(g geom.Geometry) orb.MultiPolygon {
	return normalize(appendPolygons(nil, g))
}

func appendPolygons(mp orb.MultiPolygon, g geom.Geometry) orb.MultiPolygon {
	switch g.Type() {
	case geom.TypePolygon:
		p := g.MustAsPolygon()
		if !p.IsEmpty() {
			mp = append(mp, fromPolygon(p))
		}
	case geom.TypeMultiPolygon, geom.TypeGeometryCollection:
		for _, part := range g.Dump() {
			mp = appendPolygons(mp, part)
		}
	}
	return mp
}

func fromPolygon(p geom.Polygon) orb.Polygon {
	out := make(orb.Polygon, 0, p.NumRings())
	for _, ring := range p.DumpRings() {
		s := ring.Coordinates()
		r := make(orb.Ring, s.Length())
		for i := range r {
			c := s.GetXY(i)
			r[i] = orb.Point{c.X, c.Y}
		}
		out = append(out, r)
	}
	return out
}

// overlay returns the result of do. When the library refuses the areas as they are, do is called
// again with repaired areas.
func overlay(do func(repair bool) (geom.Geometry, error)) geom.Geometry {
	g, err := do(false)
	if err != nil {
		return must(do(true))
	}
	return g
}

// prepared returns mp in the library's types, made valid if repair is set.
func prepared(mp orb.MultiPolygon, repair bool) geom.Geometry {
	if repair {
		mp, _ = MakeValid(mp)
	}
	return toGeometry(mp)
}

// must returns the library's result. Valid areas never give an error: one here is a programming
// error.
func must(g geom.Geometry, err error) geom.Geometry {
	if err != nil {
		panic(fmt.Sprintf("shape: polygon library failed on valid areas: %v", err))
	}
	return g
}
