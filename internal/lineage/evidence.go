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

// Evidence is what tells what was looked at in a quarter, besides its records.
type Evidence struct {
	Given  bool              // surveyed ground was given
	Ground []surveyed.Ground // when it was
	Water  Water
}

// Water is the streams that stand in the way of a look, in degrees, downstream.
type Water struct {
	Paths []orb.LineString
	Half  []geo.Meters // by path: half the bankfull width
}

// surveyedPieces is the ground looked at in a quarter, made ready for questions about
// places. Pieces are in the order of their last day, the latest first.
type surveyedPieces struct {
	ground []surveyed.Ground
	areas  [surveyed.Methods]areas
	paths  []orb.LineString
	of     []int32       // by path: its piece
	lines  *linear.Index // of paths
}

// areas are the surveyed areas of one method.
type areas struct {
	polygons []orb.Polygon
	of       []int32 // by polygon: its piece
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

// day returns the last day of a piece; zero for none.
func (s *surveyedPieces) day(piece int32) time.Time { return s.ground[piece].End }

// later returns the later of two days.
func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
