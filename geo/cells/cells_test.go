package cells

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// TestCover: by hand. A right triangle at (0.5, 0.5) with legs of 1.9 covers the squares that its
// sides touch, and none beyond its long side. The middle of a ring's hole is not covered.
func TestCover(t *testing.T) {
	triangle := orb.MultiPolygon{{{{0.5, 0.5}, {2.4, 0.5}, {0.5, 2.4}, {0.5, 0.5}}}}
	if got := Cover(triangle); !slices.Equal(got, Set{{0, 0}, {1, 0}, {2, 0}, {0, 1}, {1, 1}, {0, 2}}) {
		t.Errorf("triangle: %v", got)
	}
	square := func(lo, hi float64) orb.Ring {
		return orb.Ring{{lo, lo}, {hi, lo}, {hi, hi}, {lo, hi}, {lo, lo}}
	}
	hole := square(2.25, 7.75)
	slices.Reverse(hole)
	ring := Cover(orb.MultiPolygon{{square(0.25, 9.75), hole}})
	if len(ring) != 100-4*4 { // squares 3 to 6 of each row and column are in the hole
		t.Errorf("%d squares of a ring", len(ring))
	}
	if out := ring.Outline(); len(out) != 1 || len(out[0]) != 2 || signed(out[0][0]) != 200 || signed(out[0][1]) != -32 {
		t.Errorf("outline %v", out)
	}
	if got := Cover(orb.MultiPolygon{{square(0.25, 999.75)}}); len(got) != 1000*1000 {
		t.Errorf("%d squares of a large one, want a million", len(got))
	}
}

// TestOutlines: outlines of random squares. Their area is the number of squares, no ring visits a
// corner twice, the middle of each square is inside, and the middle of each empty square next to it
// is not.
func TestOutlines(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		var all []Cell
		for x := range int32(9) {
			for y := range int32(9) {
				if random.Float64() < 0.55 {
					all = append(all, Cell{x - 4, y - 4})
				}
			}
		}
		set := sorted(all)
		out, area := set.Outline(), 0.0
		for _, polygon := range out {
			for k, ring := range polygon {
				if (signed(ring) > 0) != (k == 0) {
					t.Fatalf("%v runs the wrong way in %v", ring, set)
				}
				area += signed(ring) / 2
				for i, p := range ring[1:] {
					if slices.Contains(ring[1:][:i], p) {
						t.Fatalf("%v comes back to %v", ring, p)
					}
				}
			}
		}
		if area != float64(len(set)) {
			t.Fatalf("area %v of %d squares", area, len(set))
		}
		for x := int32(-6); x < 6; x++ {
			for y := int32(-6); y < 6; y++ {
				c := Cell{x, y}
				if contains(out, c.Middle()) != slices.Contains(set, c) {
					t.Fatalf("%v of %v", c, set)
				}
			}
		}
	}
}

// contains counts the polygons that contain a point outside their holes; at most one may.
func contains(area orb.MultiPolygon, p orb.Point) bool {
	in := 0
	for _, polygon := range area {
		odd := false
		for _, ring := range polygon {
			for i := range len(ring) - 1 {
				u, v := ring[i], ring[i+1]
				if (u[1] > p[1]) != (v[1] > p[1]) && u[0]+(p[1]-u[1])/(v[1]-u[1])*(v[0]-u[0]) > p[0] {
					odd = !odd
				}
			}
		}
		if odd {
			in++
		}
	}
	return in == 1
}
