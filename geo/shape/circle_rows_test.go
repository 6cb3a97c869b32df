package shape

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// manyDiscs draws more discs than are looked through in x alone: in a heap, along a stream in any
// direction, or far apart, of any sizes, some at the same place or inside another.
func manyDiscs(t *rapid.T) []Disc {
	n := rapid.IntRange(fewCircles+1, 4*fewCircles).Draw(t, "discs")
	wide := rapid.SampledFrom([]float64{0, 1, 30, 3000}).Draw(t, "width")
	long := rapid.SampledFrom([]float64{50, 3000, 1e5}).Draw(t, "length")
	turn := rapid.SampledFrom([]float64{0, math.Pi / 2, 1, -0.3}).Draw(t, "direction")
	radius := rapid.SampledFrom([][2]float64{{5, 5}, {2, 30}, {0.1, 400}}).Draw(t, "radii")
	discs := make([]Disc, 0, n)
	for range n {
		a, b := rapid.Float64Range(-long, long).Draw(t, "along"), rapid.Float64Range(-wide, wide).Draw(t, "across")
		r := rapid.Float64Range(radius[0], radius[1]).Draw(t, "radius")
		discs = append(discs, Disc{orb.Point{4e5 + a*math.Cos(turn) - b*math.Sin(turn), 4e6 + a*math.Sin(turn) + b*math.Cos(turn)}, geo.Meters(r)})
		if rapid.IntRange(0, 9).Draw(t, "again") == 0 {
			discs = append(discs, Disc{discs[len(discs)-1].Center, geo.Meters(r * rapid.SampledFrom([]float64{1, 0.5}).Draw(t, "smaller"))})
		}
	}
	return discs
}

// TestRows: with rows a group has the circles, the pairs and the arcs that looking at every two circles
// gives, to the last bit.
func TestRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		discs := manyDiscs(t)
		g := newGroup(discs, 0, rapid.SampledFrom([]float64{0, 0.1}).Draw(t, "sagitta"))
		if want := outermost(discs, g.origin); !slices.Equal(g.circles, want) {
			t.Fatalf("%d circles, want %d", len(g.circles), len(want))
		}
		for _, g := range []*group{g, g.grown(15)} {
			plain := *g
			plain.rows, plain.found, plain.arcs = nil, false, nil
			if len(g.circles) > fewCircles && g.rows == nil {
				t.Fatal("no rows")
			}
			want := arcsOfAllCovers(g)
			if got := g.exposed(); !slices.Equal(got, want) {
				t.Errorf("%d arcs, want %d", len(got), len(want))
			}
			if got := plain.exposed(); !slices.Equal(got, want) {
				t.Errorf("%d arcs in x alone, want %d", len(got), len(want))
			}
			var got, pairs [][2]int
			g.pairs(func(i, j int, _ float64) { got = append(got, [2]int{i, j}) })
			for i, a := range g.circles {
				for j, b := range g.circles[:i] {
					dx, dy, s := b.x-a.x, b.y-a.y, (a.r+b.r)*(1+nearTouch)+3*g.sagitta
					if dx*dx+dy*dy <= s*s {
						pairs = append(pairs, [2]int{j, i})
					}
				}
			}
			byBoth := func(a, b [2]int) int { return slices.Compare(a[:], b[:]) }
			slices.SortFunc(got, byBoth)
			slices.SortFunc(pairs, byBoth)
			if !slices.Equal(got, pairs) {
				t.Errorf("%d pairs, want %d", len(got), len(pairs))
			}
		}
	})
}

// arcsOfAllCovers returns the arcs that are left when every circle is cut with every other.
func arcsOfAllCovers(g *group) (arcs []arc) {
	for i := range g.circles {
		var covers []cover
		for j := range g.circles {
			if i != j {
				covers = g.appendCover(covers, i, j, new(sectors))
			}
		}
		sortCovers(covers)
		arcs = g.appendGaps(arcs, int32(i), covers)
	}
	return arcs
}

// outermost returns the circles of discs that lie in no other, by looking at every two; of equal ones
// the first.
func outermost(discs []Disc, origin orb.Point) []circle {
	var all, kept []circle
	for _, d := range discs {
		all = append(all, circle{d.Center[0] - origin[0], d.Center[1] - origin[1], float64(d.Radius)})
	}
	slices.SortFunc(all, compareCircles)
	all = slices.Compact(all)
	for i, a := range all {
		if !slices.ContainsFunc(all, func(b circle) bool {
			dx, dy, reach := b.x-a.x, b.y-a.y, math.Abs(b.r-a.r)+touchTolerance
			same := a.r == b.r && compareCircles(a, b) < 0
			return a != b && (b.r > a.r || !same && b.r == a.r) && dx*dx+dy*dy <= reach*reach
		}) {
			kept = append(kept, all[i])
		}
	}
	return kept
}

// TestAgain: discs prepared in the memory of others have the areas, outline and derivatives of those
// prepared anew, to the last bit, in any order of gaps.
func TestAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d Discs
		for range 3 {
			discs := manyDiscs(t)[:rapid.IntRange(1, fewCircles+1).Draw(t, "kept")]
			d = d.Again(discs)
			union := UnionDiscsArea(discs)
			drawn, area := d.Draw(0.1)
			if want, _ := DrawDiscs(discs, 0.1); !want.Equal(drawn) || area != union || d.Area() != union {
				t.Errorf("%v and %v, %v anew", area, d.Area(), union)
			}
			for _, gap := range []geo.Meters{30, 30, 8, 30} {
				if got, want := d.Closing(gap, union), NewDiscs(discs).Closing(gap, union); got != want {
					t.Errorf("closing of %v: %v, %v anew", gap, got, want)
				}
				if !slices.Equal(d.Exposures(gap), NewDiscs(discs).Exposures(gap)) || !slices.Equal(d.Exposures(0), NewDiscs(discs).Exposures(0)) {
					t.Errorf("other derivatives at %v", gap)
				}
			}
		}
	})
}

// TestRowsOfAStreamToTheNorth: the number of circles looked at does not depend on where a stream runs.
func TestRowsOfAStreamToTheNorth(t *testing.T) {
	looked := func(turned bool) (n int) {
		discs := make([]Disc, 2000)
		for i := range discs {
			discs[i] = Disc{orb.Point{float64(i), float64(i % 7)}, 5}
			if turned {
				discs[i].Center[0], discs[i].Center[1] = discs[i].Center[1], discs[i].Center[0]
			}
		}
		g := newMeasured(discs, 0)
		for i := range g.circles {
			g.eachBeside(i, 10, func(int) { n++ })
		}
		return n
	}
	east, north := looked(false), looked(true)
	if max(east, north) > 30*2000 {
		t.Errorf("2000 circles were looked at %d times along a stream to the east, %d to the north", east, north)
	}
}
