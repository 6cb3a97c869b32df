package lineage

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// TestGroundInTwoStands: what discs have in common is the lens of two circles; of three through one
// place it is the sum of the discs less their union. A stand far off counts for nothing.
func TestGroundInTwoStands(t *testing.T) {
	pair := []disc{{x: 0, r: 11.35}, {x: 4.4, r: 11.35}}
	three := []disc{{x: 500, r: 10}, {x: 508, r: 12}, {x: 503, y: 9, r: 6}}
	alone := []disc{{x: 900, r: 11}, {x: 922.1, r: 11}}
	var discs []shape.Disc
	sum := 0.0
	for _, d := range three {
		discs = append(discs, shape.Disc{Center: orb.Point{d.x, d.y}, Radius: geo.Meters(d.r)})
		sum += float64(shape.UnionDiscsArea(discs[len(discs)-1:]))
	}
	of := func(sets ...[]disc) Common {
		var all []disc
		for _, s := range sets {
			all = append(all, s...)
		}
		_, found := stands("s", all)
		return CommonGround(len(found), func(i int32) *stand.Stand { return &found[i] }, 2)
	}
	twice := sum - float64(shape.UnionDiscsArea(discs))
	for _, c := range []struct {
		name          string
		got           Common
		stands        int
		twice, shared float64
		largest       [2]int32
	}{
		{"a pair", of(pair), 2, pair[0].lens(pair[1]), pair[0].lens(pair[1]), [2]int32{0, 1}},
		{"three", of(three), 3, twice, three[0].lens(three[1]), [2]int32{0, 1}},
		{"both, after two that touch", of(alone, three, pair), 5, twice + pair[0].lens(pair[1]), pair[0].lens(pair[1]), [2]int32{5, 6}},
		{"both the other way", of(pair, alone, three), 5, twice + pair[0].lens(pair[1]), pair[0].lens(pair[1]), [2]int32{0, 1}},
		{"apart", of(alone), 0, 0, 0, [2]int32{}},
		{"none", of(nil), 0, 0, 0, [2]int32{}},
	} {
		near(t, c.name+", counted twice", float64(c.got.Twice), c.twice, 1e-3*c.twice+1e-9)
		near(t, c.name+", most", float64(c.got.Shared), c.shared, 1e-3*c.shared+1e-9)
		if c.got.Stands != c.stands || c.got.Largest != c.largest {
			t.Errorf("%s: %+v, want %d stands, most in %v", c.name, c.got, c.stands, c.largest)
		}
	}
}

// TestGroundInTwoPlaces: drawn patches with a border in common have no ground in common, but for a
// strip of more than a square metre; and stands on both sides of the antimeridian have theirs. By hand:
// strips of 40 m by 5 mm and by 10 cm, corners a centimetre off, and a lens.
func TestGroundInTwoPlaces(t *testing.T) {
	of := func(found ...survey.Record) Common {
		all := make([]stand.Stand, len(found))
		for i := range found {
			found[i].ID = fmt.Sprint(i)
			all[i] = stand.Build(found, []int32{int32(i)}, finelyDrawn())
		}
		return CommonGround(len(all), func(i int32) *stand.Stand { return &all[i] }, 1)
	}
	for _, c := range []struct{ over, want float64 }{{0, 0}, {0.005, 0}, {0.1, 4}} {
		got := of(drawn("a", 0, 0, 30, 40), drawn("b", 30-c.over, 0, 60, 40))
		near(t, fmt.Sprintf("a border, %g m over", c.over), float64(got.Twice), c.want, 0.4)
	}
	at := func(lon float64) survey.Record {
		return survey.Record{Detected: true, PatchArea: 400, Cover: 50, Position: orb.Point{lon, 0}}
	}
	west, east := disc{r: 11.28379}, disc{x: 8e-5 * 111319.49, r: 11.28379}
	near(t, "across the antimeridian", float64(of(at(179.99996), at(-179.99996)).Twice), west.lens(east), 0.3)
}
