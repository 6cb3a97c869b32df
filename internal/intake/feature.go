package intake

import "github.com/paulmach/orb"

// feature is one record of any format, good until the next one is read.
type feature struct {
	row   int    // counted from 1, without a header
	id    []byte // the format's own id, apart from the columns
	shape shape
	cells []cell // by column of the schema; may be shorter than it
	wrong string // why the record cannot be read; blank when it can
}

// cell is what a record has in one column; blank when it has nothing.
type cell struct {
	text []byte
}

// shapeKind is the kind of geometry.
type shapeKind uint8

const (
	noShape shapeKind = iota
	pointShape
	multiPointShape
	lineShape
	multiLineShape
	polygonShape
	multiPolygonShape
	otherShape
)

// shape is a geometry laid flat. Parts are lines, rings or the points of a
// multipoint; polygons are runs of parts.
type shape struct {
	kind     shapeKind
	name     string // as the format calls the kind
	points   []orb.Point
	parts    []int // end of each part in points
	polygons []int // end of each polygon in parts
	wrong    string
}

// reset empties the shape and keeps its room.
func (s *shape) reset() {
	*s = shape{points: s.points[:0], parts: s.parts[:0], polygons: s.polygons[:0]}
}

// part returns the points of part i.
func (s *shape) part(i int) []orb.Point {
	begin := 0
	if i > 0 {
		begin = s.parts[i-1]
	}
	return s.points[begin:s.parts[i]]
}

// schema is the columns of a file in the order they were met.
type schema struct {
	names []string
	index map[string]int
	last  int // the column found last: the next one is likely to follow
}

// find returns the column of that name, adding it when it is new.
func (s *schema) find(name []byte) int {
	if next := s.last + 1; next < len(s.names) && s.names[next] == string(name) {
		s.last = next
		return next
	}
	i, ok := s.index[string(name)]
	if !ok {
		i = s.add(string(name))
	}
	s.last = i
	return i
}

// add adds a column and returns its number; of two with one name the first is found.
func (s *schema) add(name string) int {
	if s.index == nil {
		s.index = map[string]int{}
	}
	i := len(s.names)
	s.names = append(s.names, name)
	if _, taken := s.index[name]; !taken {
		s.index[name] = i
	}
	return i
}
