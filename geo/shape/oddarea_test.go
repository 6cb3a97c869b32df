package shape

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// TestScribblesExactly: what a ring goes around an odd number of times, many of its
// sides through one place or one along another, against areas in exact fractions.
func TestScribblesExactly(t *testing.T) {
	type file struct {
		Cases []struct {
			Name string
			Ring orb.Ring
			Area float64
		}
	}
	for _, c := range answers[file](t, "scribbles.json").Cases {
		t.Run(c.Name, func(t *testing.T) {
			got, _ := MakeValid(orb.MultiPolygon{{c.Ring}})
			within(t, "area", Area(got), c.Area, 1e-9)
			mustBeNormal(t, got)
		})
	}
}

// lattice draws a closed ring whose corners are few, so that sides coincide.
func lattice(r *rapid.T, corners int) orb.Ring {
	width := rapid.IntRange(2, 9).Draw(r, "width")
	point := rapid.Custom(func(r *rapid.T) orb.Point {
		return orb.Point{float64(rapid.IntRange(0, width).Draw(r, "x")) / 3, float64(rapid.IntRange(0, width).Draw(r, "y")) / 7}
	})
	ring := orb.Ring(rapid.SliceOfN(point, 3, corners).Draw(r, "ring"))
	return append(ring, ring[0])
}

// TestOddAreaTwoWays: following outlines and adding up slabs agree.
func TestOddAreaTwoWays(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ring := lattice(r, 10)
		got := oddArea(ring)
		if off := math.Abs(float64(Area(got) - Area(slabArea(ring)))); off > 1e-9 {
			r.Fatalf("%v: off by %g", ring, off)
		}
		if err := Valid(got); err != nil {
			r.Fatal(err)
		}
	})
}

// TestOddAreaOfWalks: where a walk starts and which way it goes change nothing; a walk
// made twice goes around nothing, three times what it does once.
func TestOddAreaOfWalks(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ring := lattice(r, 30)
		want := slices.Clone(oddArea(ring))
		open := slices.Clone(ring[:len(ring)-1])
		rotate(open, rapid.IntRange(0, len(open)-1).Draw(r, "start"))
		if rapid.Bool().Draw(r, "back") {
			slices.Reverse(open)
		}
		if diff := cmp.Diff(want, oddArea(append(open, open[0]))); diff != "" {
			r.Fatal(diff)
		}
		twice := slices.Concat(open, open, open[:1])
		if got := oddArea(twice); len(got) > 0 {
			r.Fatalf("twice: %v", got)
		}
		if got := Area(oddArea(slices.Concat(open, twice))); math.Abs(float64(got-Area(want))) > 1e-9 {
			r.Fatalf("three times: %v, want %v", got, Area(want))
		}
	})
}

// TestOddAreaWithHoles: outlines that hang together by a line walked both ways, or by a
// corner, by hand.
func TestOddAreaWithHoles(t *testing.T) {
	for _, c := range []struct {
		name string
		ring orb.Ring
		want orb.MultiPolygon
	}{
		{
			"keyhole", orb.Ring{{0, 0}, {9, 0}, {9, 9}, {0, 9}, {0, 0}, {3, 3}, {3, 6}, {6, 6}, {6, 3}, {3, 3}, {0, 0}},
			orb.MultiPolygon{{{{0, 0}, {9, 0}, {9, 9}, {0, 9}, {0, 0}}, {{3, 3}, {3, 6}, {6, 6}, {6, 3}, {3, 3}}}},
		},
		{
			"island in the keyhole", orb.Ring{{0, 0}, {9, 0}, {9, 9}, {0, 9}, {0, 0}, {2, 2}, {2, 7}, {7, 7}, {7, 2}, {2, 2}, {4, 4}, {5, 4}, {5, 5}, {4, 5}, {4, 4}, {0, 0}},
			orb.MultiPolygon{{{{0, 0}, {9, 0}, {9, 9}, {0, 9}, {0, 0}}, {{2, 2}, {2, 7}, {7, 7}, {7, 2}, {2, 2}}}, {{{4, 4}, {5, 4}, {5, 5}, {4, 5}, {4, 4}}}},
		},
		{
			"hole at a corner", orb.Ring{{0, 0}, {9, 0}, {9, 9}, {0, 9}, {0, 0}, {2, 6}, {6, 2}, {0, 0}},
			orb.MultiPolygon{{{{0, 0}, {9, 0}, {9, 9}, {0, 9}, {0, 0}}, {{0, 0}, {2, 6}, {6, 2}, {0, 0}}}},
		},
		{
			"two around one place", orb.Ring{{0, 0}, {2, -1}, {2, 1}, {0, 0}, {-2, 1}, {-2, -1}, {0, 0}},
			orb.MultiPolygon{{{{-2, -1}, {0, 0}, {-2, 1}, {-2, -1}}}, {{{0, 0}, {2, -1}, {2, 1}, {0, 0}}}},
		},
		{"there and back", orb.Ring{{0, 0}, {5, 0}, {5, 5}, {5, 0}, {0, 0}}, nil},
	} {
		if diff := cmp.Diff(c.want, oddArea(c.ring)); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}
