package geojson

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// geometry reads a geometry object into the feature's shape.
func (j *reader) geometry() {
	j.feature.Shape.Reset()
	if b := j.peek(); b != '{' {
		j.skip(false, nil)
		if b != 'n' {
			j.feature.Shape.Wrong = "the geometry is no JSON object"
		}
		return
	}
	j.take('{')
	kind := ""
	for first := true; ; first = false {
		key, ok := j.member(first)
		if !ok {
			break
		}
		switch string(key) {
		case "type":
			j.room = j.scalar(j.room[:0])
			kind = string(j.room)
		case "coordinates":
			j.coordinates()
		default:
			j.skip(false, nil)
		}
	}
	j.shaped(kind)
}

// shapeNamed returns the geometry kind for a GeoJSON type name.
func shapeNamed(name string) format.ShapeKind {
	switch name {
	case "Point":
		return format.PointShape
	case "MultiPoint":
		return format.MultiPointShape
	case "LineString":
		return format.LineShape
	case "MultiLineString":
		return format.MultiLineShape
	case "Polygon":
		return format.PolygonShape
	case "MultiPolygon":
		return format.MultiPolygonShape
	case "GeometryCollection":
		return format.OtherShape
	}
	return format.NoShape
}

// depths is the array nesting depth of the positions of each kind.
var depths = [...]int{format.PointShape: 1, format.MultiPointShape: 2, format.LineShape: 2, format.MultiLineShape: 3, format.PolygonShape: 3, format.MultiPolygonShape: 4}

// shaped gives the coordinates that were read their geometry kind.
func (j *reader) shaped(name string) {
	s := &j.feature.Shape
	s.Kind, s.Name = shapeNamed(name), name
	switch {
	case s.Kind == format.NoShape:
		s.Wrong = fmt.Sprintf("the geometry is of type %q", name)
	case s.Kind == format.OtherShape:
		s.Points, s.Parts, s.Wrong = s.Points[:0], s.Parts[:0], ""
	case s.Wrong == "" && j.depth > 0 && j.depth != depths[s.Kind]:
		s.Wrong = fmt.Sprintf("the coordinates of the %s are nested %d deep and not %d", name, j.depth, depths[s.Kind])
	}
	switch s.Kind {
	case format.PointShape, format.MultiPointShape:
		s.Parts = s.Parts[:0]
	case format.PolygonShape:
		s.Polygons = append(s.Polygons[:0], len(s.Parts))
	}
}

// coordinates reads nested arrays of positions.
func (j *reader) coordinates() {
	s := &j.feature.Shape
	s.Points, s.Parts, s.Polygons = s.Points[:0], s.Parts[:0], s.Polygons[:0]
	j.depth = 0
	if j.peek() != '[' {
		if b := j.peek(); b != 'n' {
			s.Wrong = "the coordinates are no array"
		}
		j.skip(false, nil)
		return
	}
	j.array(1)
}

// array reads the array that begins here, at the given level of nesting.
func (j *reader) array(level int) {
	w, s := j.Reading.Text, &j.feature.Shape
	if level > len(depths)-1 { // deeper than any geometry type allows
		s.Wrong = "the coordinates are nested too deep"
		j.skip(false, nil)
		return
	}
	w.Pos++
	b := j.peek()
	if b != '[' && b != ']' {
		j.position(level)
		return
	}
	for first := true; j.next(']', first); first = false {
		if b := j.peek(); b != '[' {
			s.Wrong = "the coordinates mix numbers and arrays"
			j.skip(false, nil)
			continue
		}
		j.array(level + 1)
	}
	switch j.depth - level {
	case 1:
		s.Parts = append(s.Parts, len(s.Points))
	case 2:
		s.Polygons = append(s.Polygons, len(s.Parts))
	}
	if len(s.Points) > j.Limits.Vertices {
		j.fail("a feature has more vertices than limits.vertices allows")
	}
}

// longestPosition is the number of bytes in which a position is parsed in one step. Our choice: several
// times the length of four numbers of 17 digits with white space.
const longestPosition = 512

// position reads the numbers of one position and the closing bracket.
func (j *reader) position(level int) {
	w, s := j.Reading.Text, &j.feature.Shape
	for w.End-w.Pos < longestPosition && w.More() && w.Err == nil {
	}
	var p orb.Point
	i, n := w.Pos, 0
	for {
		v, next, ok := format.Coordinate(w.Buf, skipSpace(w.Buf, i))
		if !ok {
			w.Pos = next
			if s.Wrong == "" {
				s.Wrong = "a coordinate is no number"
			}
			j.rest()
			return
		}
		if n < 2 {
			p[n] = v
		}
		n++
		i = skipSpace(w.Buf, next)
		if w.Buf[i] != ',' {
			break
		}
		i++
	}
	w.Pos = i
	if !j.take(']') {
		return
	}
	if n < 2 {
		s.Wrong = "a position has fewer than two numbers"
	}
	if j.depth == 0 {
		j.depth = level
	}
	if j.depth != level {
		s.Wrong = "the positions are not nested equally deep"
	}
	s.Add(p)
}

// rest skips what is left of a position that cannot be read.
func (j *reader) rest() {
	for j.wrong == "" {
		switch j.peek() {
		case ']':
			j.Reading.Text.Pos++
			return
		case 0:
			j.fail("the text ends inside coordinates")
		case ',':
			j.Reading.Text.Pos++
		default:
			before := j.Reading.Text.Place()
			j.skip(false, nil)
			if j.Reading.Text.Place() == before {
				j.fail(describe(j.peek()) + " inside coordinates")
			}
		}
	}
}

func skipSpace(b []byte, i int) int {
	for b[i] == ' ' || b[i] == '\n' || b[i] == '\r' || b[i] == '\t' {
		i++
	}
	return i
}
