package shape

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// cell is a rectangle.
func cell(west, south, east, north float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}
}

// grid is n by n squares of side 1, without some.
func grid(n int, without ...int) []orb.MultiPolygon {
	var out []orb.MultiPolygon
	for i := range n * n {
		if !slices.Contains(without, i) {
			x, y := float64(i%n), float64(i/n)
			out = append(out, cell(x, y, x+1, y+1))
		}
	}
	return out
}

// TestGaps: gaps and their sizes, by hand.
func TestGaps(t *testing.T) {
	donut := orb.MultiPolygon{{cell(0, 0, 3, 3)[0][0], cell(1, 1, 2, 2)[0][0]}}
	// two neighbours whose common border was drawn twice: it crosses itself at (1, 1) and leaves an
	// open triangle of 0.05 below, and an overlapping one of 0.05 above
	left := orb.MultiPolygon{{{{0, 0}, {1, 0}, {0.9, 0.5}, {1.1, 1.5}, {1, 2}, {0, 2}, {0, 0}}}}
	right := orb.MultiPolygon{{{{1, 0}, {2, 0}, {2, 2}, {1, 2}, {1, 0}}}}
	for _, c := range []struct {
		name  string
		areas []orb.MultiPolygon
		want  string
	}{
		{"nothing", nil, "[]"},
		{"one", grid(1), "[]"},
		{"apart", []orb.MultiPolygon{cell(0, 0, 1, 1), cell(2, 0, 3, 1)}, "[]"},
		{"clean", grid(3), "[]"},
		{"corner missing", grid(3, 0), "[]"},
		{"middle missing", grid(3, 4), "[1]"},
		{"two together missing", grid(4, 5, 6), "[2]"},
		{"two at a corner missing", grid(4, 5, 10), "[1 1]"},
		{"hole of one", []orb.MultiPolygon{donut}, "[1]"},
		{"hole filled", []orb.MultiPolygon{donut, cell(1, 1, 2, 2)}, "[]"},
		{"hole filled with other corners", []orb.MultiPolygon{donut, {{{{1, 1}, {1.5, 1}, {2, 1}, {2, 2}, {1, 2}, {1, 1}}}}}, "[]"},
		{"hole half filled", []orb.MultiPolygon{donut, cell(1, 1, 1.5, 2)}, "[0.5]"},
		{"hole overfilled", []orb.MultiPolygon{donut, cell(0.5, 0.5, 2.5, 2.5)}, "[]"},
		{"border drawn twice", []orb.MultiPolygon{left, right}, "[0.05]"},
		{"closed by outlines that cross", []orb.MultiPolygon{cell(0, 0, 3, 1), cell(0, 1, 1, 2), cell(2, 1, 3, 2), cell(0, 1.5, 3, 3)}, "[0.5]"},
		{"copies", append(grid(3, 4), grid(3, 4)...), "[1]"},
		{"overlap alone", []orb.MultiPolygon{cell(0, 0, 2, 1), cell(1, 0, 3, 1)}, "[]"},
	} {
		sizes := []float64{}
		for _, g := range Gaps(c.areas) {
			sizes = append(sizes, math.Round(1e9*float64(geo.PolygonArea(orb.MultiPolygon{g.Ground})))/1e9)
		}
		if got := fmt.Sprint(sizes); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestGapsOfGrids: the gaps of random grids with moved corners are the missing cells not connected
// to the outside through missing cells, found by walking.
func TestGapsOfGrids(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(r, "n")
		missing := rapid.SliceOfN(rapid.IntRange(0, n*n-1), 0, 9).Draw(r, "missing")
		moved := func(areas []orb.MultiPolygon) []orb.MultiPolygon {
			for i := range areas {
				for k, p := range areas[i][0][0] { // the same corner moves in the same way everywhere
					areas[i][0][0][k] = orb.Point{p[0] + 0.1*math.Sin(7*p[0]+3*p[1]), p[1] + 0.1*math.Cos(5*p[0]+2*p[1])}
				}
			}
			return areas
		}
		open := map[int]bool{}
		for range n * n {
			for _, i := range missing {
				x, y := i%n, i/n
				if x == 0 || y == 0 || x == n-1 || y == n-1 || open[i-1] || open[i+1] || open[i-n] || open[i+n] {
					open[i] = true
				}
			}
		}
		whole, want := moved(grid(n)), 0.0
		for i := range whole {
			if slices.Contains(missing, i) && !open[i] {
				want += float64(geo.PolygonArea(whole[i]))
			}
		}
		got := 0.0
		for _, g := range Gaps(moved(grid(n, missing...))) {
			got += float64(geo.PolygonArea(orb.MultiPolygon{g.Ground}))
		}
		if math.Abs(got-want) > 1e-9 {
			r.Fatalf("%g, want %g", got, want)
		}
	})
}

// TestOverlaps: which areas overlap, and by how much; by hand.
func TestOverlaps(t *testing.T) {
	areas := []orb.MultiPolygon{cell(0, 0, 2, 2), cell(2, 0, 3, 2), cell(1, 1, 3, 3), nil, cell(9, 9, 10, 10)}
	got := ""
	all, whole := Overlaps(areas, 1e-9, 2)
	for _, o := range all {
		got += fmt.Sprintf("%d %d %g; ", o.First, o.Second, math.Round(1e9*float64(geo.PolygonArea(o.Shared)))/1e9)
	}
	if want := "0 2 1; 1 2 1; "; got != want || !whole {
		t.Errorf("%s, want %s", got, want)
	}
	if o, whole := Overlaps(areas, 1.5, 2); len(o) > 0 || !whole {
		t.Error(o, whole)
	}
	if o, whole := Overlaps(areas, 1e-9, 1); len(o) != 1 || whole {
		t.Error(o, whole)
	}
}
