package shape

import (
	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	"driftreach/geo"
)

// Buffer returns all places within r of the lines, dissolved, with round caps and joins of
// quadrantSegments sides a quarter circle. Corners lie on the true circle. The result is empty when
// r is not positive; a line of one place gives a disc.
func Buffer(lines orb.MultiLineString, r geo.Meters, quadrantSegments int) orb.MultiPolygon {
	radius := make([]geo.Meters, len(lines))
	for i := range radius {
		radius[i] = r
	}
	return BufferLines(lines, radius, quadrantSegments, 1)
}

// libraryBuffer is the polygon library's buffer of lines. The library takes a closed line for the
// outline of an area and fills the middle of small ones, so closed lines are passed in halves.
func libraryBuffer(lines orb.MultiLineString, r float64, quadrantSegments int) orb.MultiPolygon {
	var open orb.MultiLineString
	for _, l := range lines {
		open = appendOpened(open, l)
	}
	g, ok := toLines(open)
	if !ok {
		return nil
	}
	return fromGeometry(must(bufferGeometry(g, r, quadrantSegments)))
}

// appendOpened appends l, cut in halves until no part is closed.
func appendOpened(parts orb.MultiLineString, l orb.LineString) orb.MultiLineString {
	if len(l) < 3 || l[0] != l[len(l)-1] {
		return append(parts, l)
	}
	return appendOpened(appendOpened(parts, l[:len(l)/2+1]), l[len(l)/2:])
}

// BufferPolygon returns mp grown by r with round joins, or shrunk when r is
// negative. Parts of mp may overlap where it grows; each must be valid, see MakeValid. Near linear in
// the vertices of large areas.
func BufferPolygon(mp orb.MultiPolygon, r geo.Meters, quadrantSegments int) orb.MultiPolygon {
	if len(mp) == 0 || r == 0 {
		return normalize(mp.Clone())
	}
	if vertices(mp) >= manySides {
		if out, ok := bufferOutline(mp, float64(r), quadrantSegments); ok {
			return out
		}
	}
	return fromGeometry(overlay(func(repair bool) (geom.Geometry, error) {
		return bufferGeometry(prepared(mp, repair), float64(r), quadrantSegments)
	}))
}

// bufferGeometry is the only call of the library's buffer. By default the library first simplifies
// the input by 1 % of r, and can then return a valid area that is off by up to 0.2 % without an
// error, ten times as much as with factor 0.
func bufferGeometry(g geom.Geometry, r float64, quadrantSegments int) (geom.Geometry, error) {
	return geom.Buffer(g, r,
		geom.BufferSimplifyFactor(0),
		geom.BufferQuadSegments(max(1, quadrantSegments)))
}

// toLines returns the lines in the library's types, a line of one place as a point; false when
// nothing is left.
func toLines(lines orb.MultiLineString) (geom.Geometry, bool) {
	var parts []geom.Geometry
	for _, l := range lines {
		l = distinct(l)
		flat, ok := flatten(l)
		if !ok || len(l) == 0 {
			continue
		}
		if len(l) == 1 {
			parts = append(parts, geom.NewPoint(geom.Coordinates{XY: geom.XY{X: l[0][0], Y: l[0][1]}, Type: geom.DimXY}).AsGeometry())
			continue
		}
		parts = append(parts, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)).AsGeometry())
	}
	if len(parts) == 0 {
		return geom.Geometry{}, false
	}
	return geom.NewGeometryCollection(parts).AsGeometry(), true
}

// distinct returns l without repeated vertices.
func distinct(l orb.LineString) orb.LineString {
	out := make(orb.LineString, 0, len(l))
	for _, p := range l {
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	return out
}
