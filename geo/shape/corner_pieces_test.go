package shape

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// asked is an outline that records the places it is tested with, and covers those on one side.
type asked struct {
	places []orb.Point
	over   func(p orb.Point) bool
}

func (a *asked) toward(int32, orb.Point) float64 { return 0 }

func (a *asked) under(_ []arc, p orb.Point, _ float64) bool {
	a.places = append(a.places, p)
	return a.over(p)
}

// TestPiecesLeftOfACorner: the arc of a corner at the origin, radius 2, runs from angle 1 through a
// turn of 3. Cuts at 0.4 to 1 and 1.6 to 2.4 leave three pieces. Only the piece between two cuts is
// tested, at its middle, 1 + 1.3; the ends of a piece may be on anything. By hand.
func TestPiecesLeftOfACorner(t *testing.T) {
	c := corner{start: 1, turn: 3}
	cuts := []cover{{lo: -1, hi: -0.5}, {lo: 0.4, hi: 1}, {lo: 0.5, hi: 0.8}, {lo: 1.6, hi: 2.4}, {lo: 3.5, hi: 4}}
	for _, x := range []struct {
		over bool
		want string
	}{{false, "1.0-1.4 2.0-2.6 3.4-4.0 "}, {true, "1.0-1.4 3.4-4.0 "}} {
		o := &asked{over: func(orb.Point) bool { return x.over }}
		got := ""
		eachLeft(o, nil, c, cuts, 2, func(lo, hi float64) { got += fmt.Sprintf("%.1f-%.1f ", lo, hi) })
		if got != x.want {
			t.Errorf("covered %v: %s, want %s", x.over, got, x.want)
		}
		middle := orb.Point{2 * math.Cos(2.3), 2 * math.Sin(2.3)}
		if len(o.places) != 1 || math.Hypot(o.places[0][0]-middle[0], o.places[0][1]-middle[1]) > 1e-12 {
			t.Errorf("asked of %v, want %v", o.places, middle)
		}
	}
}

// TestADrawingThatDoesNotClose: of three discs in a row one piece of the outline is missing; the
// rest does not close, and is not taken for the drawing of no discs.
func TestADrawingThatDoesNotClose(t *testing.T) {
	g := newGroup([]Disc{{orb.Point{0, 0}, 10}, {orb.Point{12, 0}, 10}, {orb.Point{24, 1}, 10}}, 0, 0.01)
	arcs := g.exposed()
	if mp, ok := g.drawClear(arcs); !ok || len(mp) != 1 {
		t.Fatalf("all of it: %d polygons, %v", len(mp), ok)
	}
	for k := range arcs {
		left := append(append([]arc{}, arcs[:k]...), arcs[k+1:]...)
		if _, ok := g.drawClear(left); ok {
			t.Errorf("without piece %d of %d it is drawn", k, len(arcs))
		}
	}
}
