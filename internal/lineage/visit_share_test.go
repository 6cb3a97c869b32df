package lineage

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/effort"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// box is a rectangle of degrees from metres of base.
func box(west, south, east, north float64) orb.Polygon {
	at := func(x, y float64) orb.Point { return base.Inverse(orb.Point{x, y}) }
	return orb.Polygon{{at(west, south), at(east, south), at(east, north), at(west, north), at(west, south)}}
}

func path(x0, y0, x1, y1 float64) orb.LineString {
	return orb.LineString{base.Inverse(orb.Point{x0, y0}), base.Inverse(orb.Point{x1, y1})}
}

// segmentShare is the share of a disc of radius r on one side of a chord at distance d
// from its middle, the middle not on it: the circular segment, by hand.
func segmentShare(d, r float64) float64 {
	return (r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d)) / (math.Pi * r * r)
}

// TestShareOfASurveyedStand: one disc of 10 000 m2 about the origin, radius 56.42 m;
// what lies in areas and beside lines is the whole, a half or a segment of it.
func TestShareOfASurveyedStand(t *testing.T) {
	const area = 10_000.0
	r := math.Sqrt(area / math.Pi)
	known := knownOf(t, records(plant{0, 0, area}))
	for _, test := range []struct {
		name   string
		ground effort.Ground
		want   float64
	}{
		{"nothing", effort.Ground{}, 0},
		{"far off", effort.Ground{Areas: orb.MultiPolygon{box(500, 500, 600, 600)}, Lines: orb.MultiLineString{path(500, -900, 500, 900)}}, 0},
		{"all around", effort.Ground{Areas: orb.MultiPolygon{box(-100, -100, 100, 100)}}, 1},
		{"one side", effort.Ground{Areas: orb.MultiPolygon{box(0, -100, 100, 100)}}, 0.5},
		{"both sides, one twice", effort.Ground{Areas: orb.MultiPolygon{box(0, -100, 100, 100), box(0, -100, 100, 100), box(-100, -100, 0, 100)}}, 1},
		{"beyond a chord", effort.Ground{Areas: orb.MultiPolygon{box(30, -100, 100, 100)}}, segmentShare(30, r)},
		{"a hole round it", effort.Ground{Areas: orb.MultiPolygon{{box(-200, -200, 200, 200)[0], box(-100, -100, 100, 100)[0]}}}, 0},
		// seen 50 m from a line along x = 80: what lies beyond x = 30
		{"a line beside it", effort.Ground{Lines: orb.MultiLineString{path(80, -500, 80, 500)}}, segmentShare(30, r)},
		{"lines on both sides", effort.Ground{Lines: orb.MultiLineString{path(80, -500, 80, 500), path(-80, -500, -80, 500)}}, 2 * segmentShare(30, r)},
		{"a line and an area that overlap", effort.Ground{Areas: orb.MultiPolygon{box(20, -100, 100, 100)}, Lines: orb.MultiLineString{path(80, -500, 80, 500)}}, segmentShare(20, r)},
		{"a turn away", effort.Ground{Areas: orb.MultiPolygon{turned(box(-100, -100, 100, 100), orb.Point{320, -33})}}, 1},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := Visits(known, Evidence{Given: true, Ground: []effort.Ground{test.ground}}, DefaultSettings(), 2)[0]
			// the footprint has 128 corners, the frame is exact in area
			if math.Abs(got.Share-test.want) > 2e-3 || got.Looked != (test.want >= 0.5-1e-9) && math.Abs(test.want-0.5) > 2e-3 {
				t.Errorf("%v, want a share of %v", got, test.want)
			}
		})
	}
}

// TestRecordsTellOfVisits: one disc of radius 56.42 m, and one record at a distance
// from its edge.
func TestRecordsTellOfVisits(t *testing.T) {
	const area = 10_000.0
	r := math.Sqrt(area / math.Pi)
	known := knownOf(t, records(plant{0, 0, area}))
	for _, test := range []struct {
		name     string
		detected bool
		off      float64 // from the edge
		given    bool    // surveyed ground was given, and none of it here
		want     bool
	}{
		{"inside", true, -40, false, true},
		{"within sight", true, 49, false, true},
		{"out of sight", true, 51, false, false},
		{"blank within sight", false, 49, false, true},
		{"inside, but not in the surveyed ground", true, -40, true, false},
		{"blank inside, not in the surveyed ground", false, -40, true, true},
		{"blank within the join distance", false, 29, true, true},
		{"blank beyond it", false, 31, true, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			one := records(plant{r + test.off, 0, 10})
			one[0].Detected = test.detected
			got := Visits(known, Evidence{Records: one, Given: test.given}, DefaultSettings(), 2)[0]
			if got.Looked != test.want || math.IsNaN(got.Share) == test.given {
				t.Errorf("%+v, want looked %v", got, test.want)
			}
		})
	}
}

// knownOf maps records as the stands of an earlier quarter.
func knownOf(t testing.TB, found []survey.Record) []Known {
	t.Helper()
	q := survey.Quarter{Year: 2026, Number: 1}
	stands, _, err := stand.Map(found, q, stand.DefaultSettings(), 2)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]Known, len(stands))
	for i := range stands {
		out[i] = Known{Stand: stands[i], Quarter: q}
	}
	return out
}
