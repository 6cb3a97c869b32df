package intake

import (
	"fmt"

	"github.com/paulmach/orb"
)

// geometry reads a geometry object into the feature's shape.
func (j *jsonReader) geometry() {
	j.feature.shape.reset()
	if b := j.peek(); b != '{' {
		j.skip(false, nil)
		if b != 'n' {
			j.feature.shape.wrong = "the geometry is no JSON object"
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

// shapeNamed returns the kind of geometry GeoJSON calls name.
func shapeNamed(name string) shapeKind {
	switch name {
	case "Point":
		return pointShape
	case "MultiPoint":
		return multiPointShape
	case "LineString":
		return lineShape
	case "MultiLineString":
		return multiLineShape
	case "Polygon":
		return polygonShape
	case "MultiPolygon":
		return multiPolygonShape
	case "GeometryCollection":
		return otherShape
	}
	return noShape
}

// depths is how deep the positions of each kind are nested.
var depths = [...]int{pointShape: 1, multiPointShape: 2, lineShape: 2, multiLineShape: 3, polygonShape: 3, multiPolygonShape: 4}

// shaped gives the coordinates read their kind.
func (j *jsonReader) shaped(name string) {
	s := &j.feature.shape
	s.kind, s.name = shapeNamed(name), name
	switch {
	case s.kind == noShape:
		s.wrong = fmt.Sprintf("the geometry is of type %q", name)
	case s.kind == otherShape:
		s.points, s.parts, s.wrong = s.points[:0], s.parts[:0], ""
	case s.wrong == "" && j.depth > 0 && j.depth != depths[s.kind]:
		s.wrong = fmt.Sprintf("the coordinates of the %s are nested %d deep and not %d", name, j.depth, depths[s.kind])
	}
	switch s.kind {
	case pointShape, multiPointShape:
		s.parts = s.parts[:0]
	case polygonShape:
		s.polygons = append(s.polygons[:0], len(s.parts))
	}
}

// coordinates reads arrays of positions, however deep.
func (j *jsonReader) coordinates() {
	s := &j.feature.shape
	s.points, s.parts, s.polygons = s.points[:0], s.parts[:0], s.polygons[:0]
	j.depth = 0
	if j.peek() != '[' {
		if b := j.peek(); b != 'n' {
			s.wrong = "the coordinates are no array"
		}
		j.skip(false, nil)
		return
	}
	j.array(1)
}

// array reads the array that begins here, at the given level of nesting.
func (j *jsonReader) array(level int) {
	w, s := j.reading.text, &j.feature.shape
	if level > len(depths)-1 { // deeper than any geometry
		s.wrong = "the coordinates are nested too deep"
		j.skip(false, nil)
		return
	}
	w.pos++
	b := j.peek()
	if b != '[' && b != ']' {
		j.position(level)
		return
	}
	for first := true; j.next(']', first); first = false {
		if b := j.peek(); b != '[' {
			s.wrong = "the coordinates mix numbers and arrays"
			j.skip(false, nil)
			continue
		}
		j.array(level + 1)
	}
	switch j.depth - level {
	case 1:
		s.parts = append(s.parts, len(s.points))
	case 2:
		s.polygons = append(s.polygons, len(s.parts))
	}
	if len(s.points) > j.limits.Vertices {
		j.fail("a feature has more vertices than limits.vertices allows")
	}
}

// longestPosition is how many bytes a position is read from at one go. Our
// choice: four numbers of 17 digits and white space fit several times over.
const longestPosition = 512

// position reads the numbers of one position and the bracket after them.
func (j *jsonReader) position(level int) {
	w, s := j.reading.text, &j.feature.shape
	for w.end-w.pos < longestPosition && w.more() && w.err == nil {
	}
	var p orb.Point
	i, n := w.pos, 0
	for {
		v, next, ok := coordinate(w.buf, skipSpace(w.buf, i))
		if !ok {
			w.pos = next
			if s.wrong == "" {
				s.wrong = "a coordinate is no number"
			}
			j.rest()
			return
		}
		if n < 2 {
			p[n] = v
		}
		n++
		i = skipSpace(w.buf, next)
		if w.buf[i] != ',' {
			break
		}
		i++
	}
	w.pos = i
	if !j.take(']') {
		return
	}
	if n < 2 {
		s.wrong = "a position has fewer than two numbers"
	}
	if j.depth == 0 {
		j.depth = level
	}
	if j.depth != level {
		s.wrong = "the positions are not nested equally deep"
	}
	s.add(p)
}

// rest passes over what is left of a position that cannot be read.
func (j *jsonReader) rest() {
	for j.wrong == "" {
		switch j.peek() {
		case ']':
			j.reading.text.pos++
			return
		case 0:
			j.fail("the text ends inside coordinates")
		case ',':
			j.reading.text.pos++
		default:
			before := j.reading.text.place()
			j.skip(false, nil)
			if j.reading.text.place() == before {
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
