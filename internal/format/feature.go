package format

import "github.com/paulmach/orb"

// Feature is one record of any format, good until the next one is read.
type Feature struct {
	Row   int    // counted from 1, without a header
	ID    []byte // the format's own id, apart from the columns
	Shape Shape
	Cells []Cell // by column of the schema; may be shorter than it
	Wrong string // why the record cannot be read; blank when it can
}

// Cell is what a record has in one column; blank when it has nothing.
type Cell struct {
	Text []byte
}

// ShapeKind is the kind of geometry.
type ShapeKind uint8

const (
	NoShape ShapeKind = iota
	PointShape
	MultiPointShape
	LineShape
	MultiLineShape
	PolygonShape
	MultiPolygonShape
	OtherShape
)

// Shape is a geometry laid flat. Parts are lines, rings or the points of a
// multipoint; polygons are runs of parts.
type Shape struct {
	Kind     ShapeKind
	Name     string // as the format calls the kind
	Points   []orb.Point
	Parts    []int // end of each part in points
	Polygons []int // end of each polygon in parts
	Wrong    string
}

// Reset empties the shape and keeps its room.
func (s *Shape) Reset() {
	*s = Shape{Points: s.Points[:0], Parts: s.Parts[:0], Polygons: s.Polygons[:0]}
}

// Part returns the points of part i.
func (s *Shape) Part(i int) []orb.Point {
	begin := 0
	if i > 0 {
		begin = s.Parts[i-1]
	}
	return s.Points[begin:s.Parts[i]]
}

// Schema is the columns of a file in the order they were met.
type Schema struct {
	Names []string
	Index map[string]int
	Last  int // the column found last: the next one is likely to follow
}

// Find returns the column of that name, adding it when it is new.
func (s *Schema) Find(name []byte) int {
	if next := s.Last + 1; next < len(s.Names) && s.Names[next] == string(name) {
		s.Last = next
		return next
	}
	i, ok := s.Index[string(name)]
	if !ok {
		i = s.Add(string(name))
	}
	s.Last = i
	return i
}

// Add adds a column and returns its number; of two with one name the first is found.
func (s *Schema) Add(name string) int {
	if s.Index == nil {
		s.Index = map[string]int{}
	}
	i := len(s.Names)
	s.Names = append(s.Names, name)
	if _, taken := s.Index[name]; !taken {
		s.Index[name] = i
	}
	return i
}
