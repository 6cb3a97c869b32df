package parquet

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// nativeShape is a geometry stored as lists of numbers instead of bytes (GeoParquet 1.1, native
// encodings of GeoArrow with separated coordinates).
type nativeShape struct {
	kind  format.ShapeKind
	name  string
	lists int // how many lists a position is nested in
}

var nativeShapes = map[string]nativeShape{
	"point": {format.PointShape, "Point", 0}, "linestring": {format.LineShape, "LineString", 1}, "polygon": {format.PolygonShape, "Polygon", 2},
	"multipoint": {format.MultiPointShape, "MultiPoint", 1}, "multilinestring": {format.MultiLineShape, "MultiLineString", 2}, "multipolygon": {format.MultiPolygonShape, "MultiPolygon", 3},
}

// native prepares to read the columns x and y of such geometries.
func (p *file) native(name string, kind nativeShape, found []int) error {
	n := &nativeReader{nativeShape: kind, limit: p.Limits.Vertices}
	for _, i := range found {
		leaf := p.leaves[i]
		if leaf.physical != parquetDouble || leaf.repetition != kind.lists {
			continue
		}
		switch leaf.path[len(leaf.path)-1] {
		case "x":
			n.x = p.column(i)
		case "y":
			n.y = p.column(i)
		}
	}
	if n.x == nil || n.y == nil {
		return p.Unusable("column "+format.Shorten(name), "the geometries have no columns x and y of numbers", "save the layer with geometries as WKB")
	}
	p.geometry = n
	return nil
}

// nativeReader reads them.
type nativeReader struct {
	nativeShape
	x, y  *column
	limit int
}

// shape collects the positions of a row. The repetition level of a position says which of the lists
// around it continues: the innermost one within a line, the next one out where a new ring or line
// begins, and so on.
func (n *nativeReader) shape(s *format.Shape) error {
	for first := true; ; first = false {
		x, err := n.x.look()
		if errors.Is(err, errNoMore) && !first || err == nil && !first && x.repetition == 0 {
			break
		}
		if err != nil {
			return fmt.Errorf("geometries: %w", err)
		}
		entry := *x
		n.x.take()
		y, err := n.y.take()
		if err != nil || y.repetition != entry.repetition || (y.definition == n.y.definition) != (entry.definition == n.x.definition) {
			return errors.New("geometries: x and y do not belong together")
		}
		if entry.definition == n.x.definition {
			n.add(s, entry.repetition, orb.Point{math.Float64frombits(entry.value.bits), math.Float64frombits(y.value.bits)})
		}
		if len(s.Points) > n.limit {
			return errors.New("geometries: a geometry has more vertices than limits.vertices allows")
		}
	}
	n.close(s)
	return nil
}

// add adds a position. If the position starts new parts, it ends the parts before it first.
func (n *nativeReader) add(s *format.Shape, repetition int, p orb.Point) {
	if n.kind == format.PointShape && math.IsNaN(p[0]) && math.IsNaN(p[1]) { // NaN, NaN is an empty point
		return
	}
	if len(s.Points) > 0 && n.lists > 1 {
		if repetition < n.lists {
			s.EndPart()
		}
		if n.lists == 3 && repetition == 1 {
			s.EndPolygon()
		}
	}
	s.Add(p)
}

// close ends the last parts.
func (n *nativeReader) close(s *format.Shape) {
	if len(s.Points) == 0 {
		return
	}
	s.Is(n.kind, n.name)
	switch n.kind {
	case format.LineShape, format.MultiLineShape:
		s.EndPart()
	case format.PolygonShape, format.MultiPolygonShape:
		s.EndPart()
		s.EndPolygon()
	}
}
