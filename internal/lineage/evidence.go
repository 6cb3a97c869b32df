package lineage

import (
	"cmp"
	"slices"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/linear"
	"driftreach/internal/surveyed"
)

// Evidence is the information, besides the records, about what was surveyed in a quarter.
type Evidence struct {
	Given  bool              // surveyed ground was supplied
	Ground []surveyed.Ground // the surveyed ground
	Water  Water
}

// Water is the streams that limit the view on foot, in degrees, directed downstream.
type Water struct {
	Paths linear.Lines
	Half  []geo.Meters // by path: half the bankfull width
}

// surveyedPieces is the ground surveyed in a quarter, prepared for queries. Pieces are sorted by
// their last day, latest first.
type surveyedPieces struct {
	ground []surveyed.Ground
	areas  [surveyed.Methods]areas
	paths  []orb.LineString
	of     []int32       // by path: index of its piece
	lines  *linear.Index // of paths
}

// areas are the areas surveyed by one method.
type areas struct {
	polygons []orb.Polygon
	of       []int32 // by polygon: index of its piece
	boxes    boxes
}

func newSurveyedPieces(ground []surveyed.Ground) *surveyedPieces {
	s := &surveyedPieces{ground: slices.Clone(ground)}
	slices.SortStableFunc(s.ground, func(a, b surveyed.Ground) int { return cmp.Compare(b.End.Unix(), a.End.Unix()) })
	for i := range s.ground {
		g := &s.ground[i]
		for _, polygon := range g.Areas {
			if len(polygon) == 0 || len(polygon[0]) == 0 {
				continue
			}
			a := &s.areas[g.Method]
			a.boxes.add(polygon.Bound(), int32(len(a.polygons)))
			a.polygons, a.of = append(a.polygons, polygon), append(a.of, int32(i))
		}
		for _, path := range g.Lines {
			s.paths, s.of = append(s.paths, path), append(s.of, int32(i))
		}
	}
	s.lines = linear.NewIndex(s.paths)
	return s
}

// day returns the last day of a piece; zero for no piece.
func (s *surveyedPieces) day(piece int32) time.Time { return s.ground[piece].End }

// later returns the later of two days.
func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
