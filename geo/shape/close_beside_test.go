package shape

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

func squareAt(x, y, side float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}}
}

// Closed forms, derived by hand.
func TestCloseBeside(t *testing.T) {
	// A square of 4 m is 2 m from the middle of a long wall, and balls of 3 m close the ground:
	// everything between the two, and at each end a square of 3 m less the quarter of a ball that
	// touches the wall and the square's side.
	const rho, h = 3.0, 2.0
	corner := rho * rho * (1 - math.Pi/4)
	cases := []struct {
		name  string
		discs []Disc
		drawn orb.MultiPolygon
		gap   geo.Meters
		want  float64
	}{
		{"nothing drawn", []Disc{{orb.Point{}, 3}}, nil, 10, 0},
		{"a square alone", nil, squareAt(0, 0, 4), 10, 16},
		{"a square with a hole that closes", nil, orb.MultiPolygon{{squareAt(0, 0, 20)[0][0], {{8, 8}, {8, 12}, {12, 12}, {12, 8}, {8, 8}}}}, 10, 400},
		{"a square with a hole wider than the gap", nil,
			orb.MultiPolygon{{squareAt(0, 0, 60)[0][0], {{10, 10}, {10, 50}, {50, 50}, {50, 10}, {10, 10}}}}, 10, 3600 - 1600 + (100 - math.Pi*25)},
		{"a disc inside the square", []Disc{{orb.Point{30, 30}, 2}}, squareAt(0, 0, 60), 10, 3600 - math.Pi*4},
		{"the square inside a disc", []Disc{{orb.Point{0, 0}, 20}}, squareAt(0, 0, 4), 10, 0},
		{"far apart", []Disc{{orb.Point{-50, 2}, 2}}, squareAt(0, 0, 4), 10, 16},
		{"a square before a wall", nil, append(squareAt(0, 0, 4), orb.Polygon{{{-20, -20 - h}, {24, -20 - h}, {24, -h}, {-20, -h}, {-20, -20 - h}}}),
			2 * rho, 16 + 44*20 + 4*h + 2*corner},
		{"a disc before a wall", []Disc{{orb.Point{0, 0}, 5}}, orb.MultiPolygon{{{{-50, -25}, {50, -25}, {50, -5}, {-50, -5}, {-50, -25}}}},
			10, 100*20 + discBeforeWall(5, 5)},
	}
	for _, rho := range []float64{0.1, 0.4, 0.9} { // small balls, and a wall that is small too, so that little may be off
		cases = append(cases, struct {
			name  string
			discs []Disc
			drawn orb.MultiPolygon
			gap   geo.Meters
			want  float64
		}{"a disc before a wall, small balls", []Disc{{orb.Point{0, 0}, 2}}, orb.MultiPolygon{{{{-4, -2.5}, {4, -2.5}, {4, -2}, {-4, -2}, {-4, -2.5}}}}, geo.Meters(2 * rho), 8*0.5 + discBeforeWall(2, rho)})
	}
	for _, c := range cases {
		if got := CloseBeside(c.discs, c.drawn, c.gap); math.Abs(float64(got)-c.want) > 1e-6*(1+c.want) {
			t.Errorf("%s: %.9f, want %.9f", c.name, got, c.want)
		}
	}
}

// discBeforeWall is the ground between a long wall, a disc of radius r touching it, and balls of
// radius rho that touch both: the trapezium under the line of centres, less the sectors of the disc
// and of the balls inside it.
func discBeforeWall(r, rho float64) float64 {
	apart := 2 * math.Sqrt(r*rho) // distance of their points on the wall, by Pythagoras
	lean := math.Atan2(apart, r-rho)
	return 2 * ((r+rho)/2*apart - r*r*lean/2 - rho*rho*(math.Pi-lean)/2)
}
