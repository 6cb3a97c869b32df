package format

import "github.com/paulmach/orb"

// Feature is one record of any format. It is valid until the next one is read.
type Feature struct {
	Row   int    // counted from 1, without the header
	ID    []byte // the id the format itself has, outside the columns
	Shape Shape
	Cells []Cell // by column of the schema; there may be fewer cells than columns
	Wrong string // why the record cannot be read; blank when it can
}

// Cell is the text of a record in one column; blank when there is none.
type Cell struct {
	Text []byte
}

// ShapeKind is the geometry type.
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

// Shape is a geometry in flat arrays. Parts are lines, rings or the points of a multipoint. Polygons
// are consecutive parts.
type Shape struct {
	Kind     ShapeKind
	Name     string // name of the type in the format
	Points   []orb.Point
	Parts    []int // for each part, the index in Points where it ends
	Polygons []int // for each polygon, the index in Parts where it ends
	Wrong    string
}

// Reset empties the shape and keeps its memory.
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

// Schema holds the columns of a file in the order in which they were found.
type Schema struct {
	Names []string
	Index map[string]int
	Last  int // the column found last; the one after it is tried first
}

// Find returns the number of the column of that name, and adds the column if it is new.
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

// Add adds a column and returns its number. If two columns have the same name, Find returns the first.
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
