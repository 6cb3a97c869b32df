package linear

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// beside calls BesidePoint at a measure.
func beside(ls orb.LineString, at, away geo.Meters) (left, right orb.Point) {
	measures := earth.LengthsAlong(ls)
	return BesidePoint(ls, measures, at, PointAt(ls, measures, at), away)
}

// West is left of a line that runs north along a meridian, north is left of one that runs east
// along the equator; the distances are geodesic.
func TestBeside(t *testing.T) {
	north, east := orb.LineString{{10, 50}, {10, 50.01}, {10, 50.01}, {10, 50.02}}, orb.LineString{{179.995, 0}, {180.005, 0}}
	for _, away := range []geo.Meters{1, 32, 5000} {
		left, right := beside(north, 1500, away)
		at := PointAt(north, earth.LengthsAlong(north), 1500)
		if left[0] >= 10 || right[0] <= 10 || math.Abs(left[0]+right[0]-20) > 1e-12 {
			t.Errorf("left %v, right %v", left, right)
		}
		for _, p := range []orb.Point{left, right} {
			if d := earth.Distance(at, p); math.Abs(float64(d-away)) > 1e-6*float64(away) {
				t.Errorf("%g m away instead of %g", d, away)
			}
		}
		left, right = beside(east, 500, away)
		if left[1] <= 0 || math.Abs(left[1]+right[1]) > 1e-12 {
			t.Errorf("left %v, right %v", left, right)
		}
	}
}

// A line without length has no direction, so no sides. The ends of a line take the direction of
// their segments.
func TestBesideWhereThereIsNoDirection(t *testing.T) {
	for _, ls := range []orb.LineString{{{1, 2}}, {{1, 2}, {1, 2}}} {
		if left, right := beside(ls, 5, 10); left != ls[0] || right != ls[0] {
			t.Errorf("%v: left %v, right %v", ls, left, right)
		}
	}
	bend := orb.LineString{{0, 0}, {0, 0.01}, {0.01, 0.01}, {0.01, 0.01}}
	end := earth.LengthsAlong(bend)[3]
	left, _ := beside(bend, geo.Meters(end+50), 100)
	if left[1] <= 0.01 || math.Abs(left[0]-0.01) > 1e-7 {
		t.Errorf("left of the end %v", left)
	}
}

// Beyond continues a line straight past a place: seen from the west it arrives due east, at the
// geodesic distance.
func TestBeyond(t *testing.T) {
	from, at := orb.Point{179.9, 0}, orb.Point{-179.999, 0}
	got := Beyond(from, at, 1500)
	if d := earth.Distance(at, got); math.Abs(float64(d)-1500) > 1e-3 || got[0] <= at[0] || math.Abs(got[1]) > 1e-9 {
		t.Errorf("%v, %g m off", got, float64(d))
	}
	if same := Beyond(at, at, 5); same != at {
		t.Errorf("no direction gave %v", same)
	}
}
