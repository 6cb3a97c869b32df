package lineage

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/linear"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// box is a rectangle of degrees from metres of base.
func box(west, south, east, north float64) orb.Polygon {
	at := func(x, y float64) orb.Point { return base.Inverse(orb.Point{x, y}) }
	return orb.Polygon{{at(west, south), at(east, south), at(east, north), at(west, north), at(west, south)}}
}

func path(x0, y0, x1, y1 float64) orb.LineString {
	return orb.LineString{base.Inverse(orb.Point{x0, y0}), base.Inverse(orb.Point{x1, y1})}
}

// beyond is the share of a disc of radius r on one side of a chord at distance d from its middle,
// the side without the middle: the circular segment, by hand.
func beyond(d, r float64) float64 {
	return (r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d)) / (math.Pi * r * r)
}

// TestShareOfALargePatch: one disc of 10 000 m2 around the origin, radius 56.42 m, where nothing is
// found; the parts in areas and beside lines are the whole disc, half of it or a segment.
func TestShareOfALargePatch(t *testing.T) {
	const area = 10_000.0
	r := math.Sqrt(area / math.Pi)
	before := knownOf(t, records(plant{0, 0, area}))
	for _, test := range []struct {
		name   string
		ground surveyed.Ground
		want   float64
	}{
		{"nothing", surveyed.Ground{}, 0},
		{"far off", surveyed.Ground{Areas: orb.MultiPolygon{box(500, 500, 600, 600)}, Lines: orb.MultiLineString{path(500, -900, 500, 900)}}, 0},
		{"all around", surveyed.Ground{Areas: orb.MultiPolygon{box(-100, -100, 100, 100)}}, 1},
		{"one side", surveyed.Ground{Areas: orb.MultiPolygon{box(0, -100, 100, 100)}}, 0.5},
		{"beyond a chord", surveyed.Ground{Areas: orb.MultiPolygon{box(30, -100, 100, 100)}}, beyond(30, r)},
		// finding nothing counts within 20 m of a walked line: along x = 50, the part beyond x = 30;
		// by boat 25 m, beyond x = 25; by air 50 m, all but x < 0
		{"on foot", surveyed.Ground{Lines: orb.MultiLineString{path(50, -500, 50, 500)}}, beyond(30, r)},
		{"by boat", surveyed.Ground{Method: surveyed.Boat, Lines: orb.MultiLineString{path(50, -500, 50, 500)}}, beyond(25, r)},
		{"by air", surveyed.Ground{Method: surveyed.Air, Lines: orb.MultiLineString{path(50, -500, 50, 500)}}, 0.5},
		{"an image", surveyed.Ground{Method: surveyed.Image, Lines: orb.MultiLineString{path(50, -500, 50, 500)}}, 0},
		{"a turn away", surveyed.Ground{Areas: orb.MultiPolygon{turned(box(-100, -100, 100, 100), orb.Point{320, -33})}}, 1},
	} {
		t.Run(test.name, func(t *testing.T) {
			l := Trace(before, Now{}, Evidence{Given: true, Ground: []surveyed.Ground{test.ground}}, DefaultSettings(), 2)
			// the footprint has 128 corners, the frame is exact in area
			if got := l.Looks[0].Share; math.Abs(got-test.want) > 4e-3 {
				t.Errorf("%v, want a share of %v", got, test.want)
			}
		})
	}
}

// TestWhoSeesAPlant: one plant 12 m east of a stream that flows north, and a line along the other
// bank, 7 m west of the stream; by hand.
func TestWhoSeesAPlant(t *testing.T) {
	for _, test := range []struct {
		name   string
		status survey.Status
		wide   geo.Meters // bankfull width
		ground surveyed.Ground
		x      float64 // of the line
		want   bool
	}{
		{"across a creek", survey.Untreated, 4, surveyed.Ground{}, -7, true},
		{"across a river", survey.Untreated, 12, surveyed.Ground{}, -7, false},
		{"in the channel of a river", survey.Untreated, 12, surveyed.Ground{}, -5, true},
		{"from a boat on a river", survey.Untreated, 12, surveyed.Ground{Method: surveyed.Boat}, -7, true},
		{"treated, from a boat", survey.Treated, 12, surveyed.Ground{Method: surveyed.Boat}, -7, false},
		{"treated, from the air", survey.Treated, 4, surveyed.Ground{Method: surveyed.Air}, 5, false},
		{"treated, on foot", survey.Treated, 12, surveyed.Ground{}, 5, true},
		{"the right bank alone", survey.Untreated, 4, surveyed.Ground{Bank: surveyed.RightBank}, -7, true},
		{"the left bank alone", survey.Untreated, 4, surveyed.Ground{Bank: surveyed.LeftBank}, -7, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			found := records(plant{12, 0, 100})
			found[0].Status = test.status
			before := knownOf(t, found)
			g := test.ground
			g.Lines = orb.MultiLineString{path(test.x, -300, test.x, 300)}
			e := Evidence{Given: true, Ground: []surveyed.Ground{g}, Water: Water{linear.LinesOf([]orb.LineString{path(0, -400, 0, 400)}), []geo.Meters{test.wide / 2}}}
			if l := Trace(before, Now{}, e, DefaultSettings(), 2); (l.Fates[0] == NotDetected) != test.want {
				t.Errorf("%s, want seen %v", l.Fates[0], test.want)
			}
		})
	}
}
