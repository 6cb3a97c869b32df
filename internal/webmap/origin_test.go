package webmap

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/internal/followup"
	"driftreach/internal/result"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// TestOriginOfTheGrid: the numbers of the map count from the first stand that has a place, else from the
// first place of a stream, to hundredths of a degree; else from 0, 0.
func TestOriginOfTheGrid(t *testing.T) {
	nan, far := math.NaN(), math.Inf(1)
	stands := func(at ...orb.Point) (all []result.Stand) {
		for _, p := range at {
			s := result.Stand{}
			s.Center = p
			all = append(all, s)
		}
		return all
	}
	lines := func(paths ...orb.LineString) (all []stream.Centerline) {
		for _, p := range paths {
			all = append(all, stream.Centerline{Path: p})
		}
		return all
	}
	for name, c := range map[string]struct {
		stands []result.Stand
		lines  []stream.Centerline
		want   orb.Point
	}{
		"nothing":                       {nil, nil, orb.Point{}},
		"a stand":                       {stands(orb.Point{10.126, -50.004}), nil, orb.Point{10.13, -50}},
		"a stand before a line":         {stands(orb.Point{10, 50}), lines(orb.LineString{{20, 60}}), orb.Point{10, 50}},
		"the first of two stands":       {stands(orb.Point{1, 2}, orb.Point{3, 4}), nil, orb.Point{1, 2}},
		"a stand without a place":       {stands(orb.Point{nan, nan}, orb.Point{3, 4}), nil, orb.Point{3, 4}},
		"a stand at no latitude":        {stands(orb.Point{1, nan}, orb.Point{3, 4}), nil, orb.Point{3, 4}},
		"a stand endlessly far":         {stands(orb.Point{far, 2}, orb.Point{3, 4}), nil, orb.Point{3, 4}},
		"a line":                        {nil, lines(orb.LineString{{20.004, 60.006}, {21, 61}}), orb.Point{20, 60.01}},
		"a line with no first place":    {nil, lines(orb.LineString{{nan, 60}, {21, 61}}), orb.Point{21, 61}},
		"a line after one of nothing":   {nil, lines(nil, orb.LineString{{22, 62}}), orb.Point{22, 62}},
		"a line for a stand of nowhere": {stands(orb.Point{nan, 1}), lines(orb.LineString{{20, 60}}), orb.Point{20, 60}},
	} {
		if got := newGrid(&result.Run{Stands: c.stands, Centerlines: c.lines}).origin; got != c.want {
			t.Errorf("%s: from %v, want %v", name, got, c.want)
		}
	}
}

// TestOverdueStands: a visit is overdue from the first day after the day it was due, up to the quarter's
// last day; a visit to no stand of the map marks none.
func TestOverdueStands(t *testing.T) {
	q := survey.Quarter{Year: 2026, Number: 3} // ends on 30 September
	due := func(stand int32, month time.Month, day int) result.Visit {
		return result.Visit{Stand: stand, Row: &followup.Row{State: followup.LookAgain, Due: time.Date(2026, month, day, 0, 0, 0, 0, time.UTC)}}
	}
	run := &result.Run{
		Quarter: q, Stands: make([]result.Stand, 5),
		Visits: []result.Visit{due(0, 9, 30), due(1, 9, 29), due(2, 10, 1), due(4, 7, 1), due(-1, 7, 1)},
	}
	if got, want := (&gatherer{run: run}).overdue(), []bool{false, true, false, false, true}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
