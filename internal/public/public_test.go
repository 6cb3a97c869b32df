package public

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/work"
)

// TestWorksAreSquares: a planned work is the squares that it has ground in, whether drawn as an
// area, a line or a point; counted by hand in the plane of EPSG:6933, whose areas are those of the
// ellipsoid.
func TestWorksAreSquares(t *testing.T) {
	g := grid{earth.NewEqualAreaCylinder(), 1000}
	at := func(x, y float64) orb.Point { return g.plane.Inverse(orb.Point{x, y}) }
	ring := orb.Ring{at(10_100, 20_100), at(12_900, 20_100), at(12_900, 22_900), at(10_100, 22_900), at(10_100, 20_100)}
	for _, c := range []struct {
		name    string
		work    work.Work
		squares float64
	}{
		{"an area in nine squares, one of them wholly inside", work.Work{Areas: orb.MultiPolygon{{ring}}}, 9},
		{"a line through four", work.Work{Lines: orb.MultiLineString{{at(10_500, 20_500), at(13_500, 20_500)}}}, 4},
		{"a point", work.Work{Points: orb.MultiPoint{at(10_999, 20_001)}}, 1},
		{"all of them, two apart", work.Work{
			Areas: orb.MultiPolygon{{ring}}, Lines: orb.MultiLineString{{at(10_500, 20_500), at(11_500, 20_500)}}, Points: orb.MultiPoint{at(30_500, 20_500)},
		}, 10},
	} {
		c.work.ID, c.work.Kind, c.work.Contact = "W-1", work.Mowing, "somebody"
		out := g.work(&c.work)
		if out.ID != "W-1" || out.Kind != work.Mowing || out.Contact != "" {
			t.Errorf("%s: %+v", c.name, out)
		}
		if got := float64(earth.Area(out.Areas)) / 1e6; math.Abs(got-c.squares) > 1e-6*c.squares {
			t.Errorf("%s: %.6f km2, want %v", c.name, got, c.squares)
		}
	}
}

// TestPlaceAtTheAntimeridian: the place of a record in the last square before half a turn is that
// square's middle, by its longitude east or west of it. Half a turn is 17,367,530 m in EPSG:6933, so that
// a square of 7 km there ends 5,970 m past it; its middle, 17,370,500 m, is at 179.9692230 W by PROJ's cs2cs
// 9.1.1.
func TestPlaceAtTheAntimeridian(t *testing.T) {
	g := grid{earth.NewEqualAreaCylinder(), 7000}
	for _, p := range []orb.Point{{179.9999, 0.001}, {179.997, 0.05}} {
		if at := g.place(p); math.Abs(at[0]+179.9692230) > 1e-7 || at[1] <= 0 || at[1] > 0.06 {
			t.Errorf("%v is in the square about %v", p, at)
		}
	}
}
