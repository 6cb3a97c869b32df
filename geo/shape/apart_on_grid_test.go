package shape

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

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
	with := func(r orb.Ring) []orb.MultiPolygon { return append([]orb.MultiPolygon{{{r}}}, rough...) }
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
		"touching once rounded":          {beside(0.002), true},
		"one step apart":                 {beside(0.01), true},
		"a slit that closes":             {with(orb.Ring{{300, 0}, {310.001, 0}, {310.001, 10}, {305.002, 10}, {305.002, 2}, {305.001, 2}, {305.001, 10}, {300, 10}, {300, 0}}), true},
		"a slit that touches itself":     {with(orb.Ring{{300, 0}, {310.001, 0}, {310.001, 10}, {305.012, 10}, {305.006, 2}, {305.001, 10}, {300, 10}, {300, 0}}), true},
		"a spike":                        {with(orb.Ring{{300, 0}, {310, 0}, {310, 5}, {320, 5.001}, {310, 5.002}, {310, 10}, {300, 10}, {300, 0}}), true},
		"a neck that breaks":             {with(orb.Ring{{300, 0}, {305, 4.999}, {310, 0}, {310, 10}, {305, 5.001}, {300, 10}, {300, 0}}), true},
		"nothing left of one":            {with(square(300, 0.001, 0.002)), true},
		"two places that touch":          {append(beside(0.002), orb.MultiPolygon{{{{400, 0}, {405, 4.999}, {410, 0}, {410, 10}, {405, 5.001}, {400, 10}, {400, 0}}}}), true},
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

// TestPackApartOfMany: the same of many small parts side by side, so that some touch once rounded, with
// any distances between them.
func TestPackApartOfMany(t *testing.T) {
	const perUnit = 10
	ringArea := func(r orb.Ring) geo.SquareMeters { return geo.SquareMeters(math.Abs(signedArea(r))) }
	met := 0
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		gap := rapid.SampledFrom([]float64{0.001, 0.03, 0.2}).Draw(t, "gap")
		var parts []orb.MultiPolygon
		for i := range rapid.IntRange(2, 30).Draw(t, "parts") {
			x, y := float64(i%6)*8, float64(i/6)*8
			radius, ring := 4-gap*rng.Float64(), orb.Ring{}
			for k := range 40 {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / 40)
				ring = append(ring, orb.Point{x + radius*cos, y + radius*sin})
			}
			parts = append(parts, orb.MultiPolygon{{append(ring, ring[0])}})
		}
		clones := make([]orb.MultiPolygon, len(parts))
		for i := range clones {
			clones[i] = parts[i].Clone()
		}
		whole := Gather(clones)
		area := geo.SquareMeters(0)
		for outer, ring := range Rings(whole) {
			area = counted(area, ringArea(ring), outer)
		}
		want := PackOnSteps(OnGridOfArea(whole, perUnit, float64(area), float64(area)), perUnit)
		clone := func(i int) orb.MultiPolygon { return parts[i].Clone() }
		if got, gotArea := PackApart(Parts{len(parts), clone}, perUnit, ringArea); gotArea != area || !reflect.DeepEqual(got, want) {
			t.Fatalf("area %v, all at once %v; the same bytes: %t", gotArea, area, reflect.DeepEqual(got, want))
		}
		a := apartParts{parts: Parts{len(parts), clone}, perUnit: perUnit, last: -1}
		if a.look(ringArea); a.inOrder() && a.keepApart() && a.touching != nil {
			if _, ok := a.pack(); ok {
				met++
			}
		}
	})
	t.Log(met, "times parts that touch were mended alone")
}
