package shape

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestPackApart: parts packed one after the other are the bytes of all of them rounded at once, and
// their area is that of all. The truth is OnGridOfArea of the gathered parts.
func TestPackApart(t *testing.T) {
	const perUnit = 1e2
	ringArea := func(r orb.Ring) geo.SquareMeters { return geo.SquareMeters(math.Abs(signedArea(r)) * 1.01) }
	square := func(x, y, side float64) orb.Ring {
		return orb.Ring{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
	}
	hole := func(x, y, side float64) orb.Ring {
		return orb.Ring{{x, y}, {x, y + side}, {x + side, y + side}, {x + side, y}, {x, y}}
	}
	var rough []orb.MultiPolygon
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range 40 {
		x, y := float64(i%7)*30+rng.Float64(), float64(i/7)*30+rng.Float64()
		var discs []Disc
		for range 1 + i%5 {
			discs = append(discs, Disc{orb.Point{x + 6*rng.Float64(), y + 6*rng.Float64()}, geo.Meters(1 + 3*rng.Float64())})
		}
		rough = append(rough, UnionDiscs(discs))
	}
	beside := func(gap float64) []orb.MultiPolygon {
		return append([]orb.MultiPolygon{{{square(300, 0.001, 1.237)}}, {{square(301.2371+gap, 0.37, 2.119)}}}, rough...)
	}
	turns := make([]orb.MultiPolygon, 2)
	for i := range 20 {
		turns[i%2] = append(turns[i%2], rough[i][0])
	}
	for name, c := range map[string]struct {
		parts []orb.MultiPolygon
		alone bool // one after the other is enough
	}{
		"discs":                          {rough, true},
		"nested, with holes":             {append([]orb.MultiPolygon{{{square(299, -1, 20.003), hole(300, 0, 18.001)}}, {{square(302, 3, 4.567), hole(303, 4, 1.111)}, {square(308, 3, 2.5)}}}, rough...), true},
		"three steps apart":              {beside(0.03), true},
		"touching once rounded":          {beside(0.002), false},
		"two of one first vertex":        {append([]orb.MultiPolygon{rough[0]}, rough...), false},
		"too few vertices for the moves": {[]orb.MultiPolygon{{{square(0.003, 0.003, 50.004)}}, {{square(100.004, 0.004, 50.003)}}}, false},
		"two parts by turns":             {turns, false},
		"nothing":                        {[]orb.MultiPolygon{{}, {}}, false},
	} {
		clone := func(i int) orb.MultiPolygon { return c.parts[i].Clone() }
		all := make([]orb.MultiPolygon, len(c.parts))
		for i := range all {
			all[i] = clone(i)
		}
		whole := Gather(all)
		area := geo.SquareMeters(0)
		for _, p := range whole {
			for k, r := range p {
				if k == 0 {
					area += ringArea(r)
				} else {
					area -= ringArea(r)
				}
			}
		}
		want := PackOnSteps(OnGridOfArea(whole, perUnit, float64(area), float64(area)), perUnit)
		asked := 0
		got, gotArea := PackApart(Parts{len(c.parts), func(i int) orb.MultiPolygon { asked++; return clone(i) }}, perUnit, ringArea)
		if gotArea != area || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: area %v and %d bytes, all at once %v and %d bytes", name, gotArea, len(got.packed.text), area, len(want.packed.text))
		}
		a := apartParts{parts: Parts{len(c.parts), clone}, perUnit: perUnit, last: -1}
		a.look(ringArea)
		alone := a.inOrder() && a.keepApart()
		if alone {
			_, alone = a.pack()
		}
		if alone != c.alone || asked == 0 {
			t.Errorf("%s: packed one after the other: %v", name, alone)
		}
	}
}
