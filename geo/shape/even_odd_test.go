package shape

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// lattice draws a closed ring from few possible corners, so that sides coincide or nearly coincide.
func lattice(r *rapid.T, corners int) orb.Ring {
	width := rapid.IntRange(2, 9).Draw(r, "width")
	blur := rapid.SampledFrom([]float64{0, 1e-16, 1e-14, 1e-12, 3e-11, 1e-9, 1e-6, 1}).Draw(r, "blur")
	point := rapid.Custom(func(r *rapid.T) orb.Point {
		return orb.Point{float64(rapid.IntRange(0, width).Draw(r, "x"))/3 + blur*rapid.Float64Range(0, 1).Draw(r, "dx"), float64(rapid.IntRange(0, width).Draw(r, "y"))/7 + blur*rapid.Float64Range(0, 1).Draw(r, "dy")}
	})
	ring := orb.Ring(rapid.SliceOfN(point, 3, corners).Draw(r, "ring"))
	return append(ring, ring[0])
}

// exactEvenOddArea adds up slabs between all heights of vertices and crossings, in exact fractions.
func exactEvenOddArea(ring orb.Ring) float64 {
	type point struct{ x, y *big.Rat }
	type edge struct{ low, high point }
	number := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	sub := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
	mul := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
	// where e is at height y
	at := func(e edge, y *big.Rat) *big.Rat {
		share := new(big.Rat).Quo(sub(y, e.low.y), sub(e.high.y, e.low.y))
		return share.Add(e.low.x, mul(share, sub(e.high.x, e.low.x)))
	}
	var edges []edge
	var levels []*big.Rat
	for i := 0; i+1 < len(ring); i++ {
		a, b := point{number(ring[i][0]), number(ring[i][1])}, point{number(ring[i+1][0]), number(ring[i+1][1])}
		levels = append(levels, a.y)
		switch a.y.Cmp(b.y) {
		case -1:
			edges = append(edges, edge{a, b})
		case 1:
			edges = append(edges, edge{b, a})
		}
	}
	for i, e := range edges {
		for _, f := range edges[:i] {
			low, high := slices.MaxFunc([]*big.Rat{e.low.y, f.low.y}, (*big.Rat).Cmp), slices.MinFunc([]*big.Rat{e.high.y, f.high.y}, (*big.Rat).Cmp)
			if low.Cmp(high) >= 0 {
				continue
			}
			below, above := sub(at(e, low), at(f, low)), sub(at(e, high), at(f, high))
			if below.Sign()*above.Sign() < 0 {
				share := new(big.Rat).Quo(below, sub(below, above))
				levels = append(levels, share.Add(low, mul(share, sub(high, low))))
			}
		}
	}
	slices.SortFunc(levels, (*big.Rat).Cmp)
	area := new(big.Rat)
	for i := 0; i+1 < len(levels); i++ {
		low, high := levels[i], levels[i+1]
		middle := new(big.Rat).Add(low, high)
		middle.Mul(middle, big.NewRat(1, 2))
		var places []*big.Rat
		for _, e := range edges {
			if e.low.y.Cmp(middle) < 0 && e.high.y.Cmp(middle) > 0 {
				places = append(places, at(e, middle))
			}
		}
		slices.SortFunc(places, (*big.Rat).Cmp)
		for k := 0; k+1 < len(places); k += 2 {
			area.Add(area, mul(sub(places[k+1], places[k]), sub(high, low)))
		}
	}
	sum, _ := area.Float64()
	return sum
}

// TestEvenOddAreaExactly: many sides through one place or along one another. (The GEOS version of
// the other tests repairs a side walked twice differently.)
func TestEvenOddAreaExactly(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ring := lattice(r, 20)
		got := evenOddArea(ring)
		if off := math.Abs(float64(Area(got)) - exactEvenOddArea(ring)); off > 1e-9 {
			r.Fatalf("%v: off by %g", ring, off)
		}
		if err := Valid(got); err != nil {
			r.Fatal(err)
		}
	})
}

// TestEvenOddAreaOfWalks: start and direction of a walk do not matter; a walk made twice encloses
// nothing, made three times the same as once.
func TestEvenOddAreaOfWalks(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ring := lattice(r, 30)
		want := float64(Area(evenOddArea(ring)))
		open := slices.Clone(ring[:len(ring)-1])
		rotate(open, rapid.IntRange(0, len(open)-1).Draw(r, "start"))
		if rapid.Bool().Draw(r, "back") {
			slices.Reverse(open)
		}
		twice := slices.Concat(open, open, open[:1])
		for _, c := range []struct {
			name string
			walk orb.Ring
			want float64
		}{
			{"once", slices.Concat(open, open[:1]), want}, {"twice", twice, 0}, {"three times", slices.Concat(open, twice), want},
		} {
			if got := float64(Area(evenOddArea(c.walk))); math.Abs(got-c.want) > 1e-9 {
				r.Fatalf("%s: %v, want %v", c.name, got, c.want)
			}
		}
	})
}

// TestEvenOddAreaWithHoles: outlines connected by a line walked in both directions, or by a corner,
// by hand.
func TestEvenOddAreaWithHoles(t *testing.T) {
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
		if diff := cmp.Diff(c.want, evenOddArea(c.ring)); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}
