package mapfile

import "github.com/paulmach/orb"

// polygon appends mp as a Polygon or MultiPolygon; null if nothing is left of it.
func (c *collection) polygon(b []byte, mp orb.MultiPolygon) []byte { return c.area(b, polygons(mp)) }

// outline does the same for an outline.
func (c *collection) outline(b []byte, o outline) []byte {
	return c.area(b, c.shapes.unpack(o, anyVertices))
}

// zone is outline for an area that may be large: polygon by polygon.
func (c *collection) zone(b []byte, o outline) []byte {
	n := c.shapes.count(o, anyVertices, func(rings [][]place, at int, several bool) {
		switch {
		case !several:
			b = c.area(b, [][][]place{rings})
			return
		case at == 0:
			b = append(b, `{"type":"MultiPolygon","coordinates":[`...)
		default:
			b = append(b, ',')
		}
		b = c.spill(c.rings(b, rings))
	})
	switch n {
	case 0:
		return c.area(b, nil)
	case 1:
		return b
	}
	return append(b, "]}"...)
}

// area does the same for polygons that are rounded already.
func (c *collection) area(b []byte, parts [][][]place) []byte {
	switch len(parts) {
	case 0:
		return append(b, "null"...)
	case 1:
		b = c.rings(append(b, `{"type":"Polygon","coordinates":`...), parts[0])
		return append(b, '}')
	}
	b = append(b, `{"type":"MultiPolygon","coordinates":[`...)
	for i, rings := range parts {
		if i > 0 {
			b = append(b, ',')
		}
		b = c.spill(c.rings(b, rings))
	}
	return append(b, "]}"...)
}

func (c *collection) rings(b []byte, rings [][]place) []byte {
	c.box.addPlaces(rings[0])
	return appendPaths(b, rings)
}

// line appends ls as a LineString or MultiLineString; null if nothing is left of it.
func (c *collection) line(b []byte, ls orb.LineString) []byte {
	return c.paths(b, lines(ls))
}

// paths appends parts as a LineString or MultiLineString; null if there are none.
func (c *collection) paths(b []byte, parts [][]place) []byte {
	for _, part := range parts {
		c.box.addPlaces(part)
	}
	switch len(parts) {
	case 0:
		return append(b, "null"...)
	case 1:
		b = appendPath(append(b, `{"type":"LineString","coordinates":`...), parts[0])
	default:
		b = appendPaths(append(b, `{"type":"MultiLineString","coordinates":`...), parts)
	}
	return append(b, '}')
}

// point appends p as a Point; null if it is not a place on earth.
func (c *collection) point(b []byte, p orb.Point) []byte {
	if !finite(p) {
		return append(b, "null"...)
	}
	q := wrapped(p)
	c.box.add(q[0], q[1], q[0], q[1])
	b = appendPlace(append(b, `{"type":"Point","coordinates":`...), q)
	return append(b, '}')
}

// points appends places as a Point or MultiPoint; null if there are none.
func (c *collection) points(b []byte, places []place) []byte {
	for i := range places {
		c.box.addPlaces(places[i : i+1])
	}
	switch len(places) {
	case 0:
		return append(b, "null"...)
	case 1:
		b = appendPlace(append(b, `{"type":"Point","coordinates":`...), places[0])
	default:
		b = appendPath(append(b, `{"type":"MultiPoint","coordinates":`...), places)
	}
	return append(b, '}')
}

func appendPaths(b []byte, paths [][]place) []byte {
	b = append(b, '[')
	for i, path := range paths {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendPath(b, path)
	}
	return append(b, ']')
}

func appendPath(b []byte, path []place) []byte {
	b = append(b, '[')
	for i, p := range path {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendPlace(b, p)
	}
	return append(b, ']')
}

func appendPlace(b []byte, p place) []byte {
	b = appendDegrees(append(b, '['), p[0])
	b = appendDegrees(append(b, ','), p[1])
	return append(b, ']')
}
