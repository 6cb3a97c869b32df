package stand

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// find is a record in plane metres.
type find struct{ x, y, area, cover float64 }

// plainStands groups finds by the definition of density (Ester et al. 1996): a core has at least
// MinPoints finds within the join distance, itself included. Cores within it of each other, and
// finds within it of a core, are one stand. ok is false where a find is within reach of two stands,
// or a distance is so near the join distance that either result may be right.
func plainStands(finds []find, s Settings) (of []int, ok bool) {
	ok = true
	near := func(a, b find) bool {
		d := math.Hypot(a.x-b.x, a.y-b.y)
		ok = ok && math.Abs(d-float64(s.JoinDistance)) > 1e-4
		return d <= float64(s.JoinDistance)
	}
	core, of := make([]bool, len(finds)), make([]int, len(finds))
	for i := range finds {
		n := 0
		for k := range finds {
			if near(finds[i], finds[k]) {
				n++
			}
		}
		core[i], of[i] = n >= s.MinPoints, i
	}
	for changed := true; changed; { // the smallest number of a connected core
		changed = false
		for i := range finds {
			for k := range finds {
				if core[i] && core[k] && near(finds[i], finds[k]) && of[k] < of[i] {
					of[i], changed = of[k], true
				}
			}
		}
	}
	for i := range finds {
		if core[i] {
			continue
		}
		for k := range finds {
			if core[k] && near(finds[i], finds[k]) {
				ok = ok && (of[i] == i || of[i] == of[k])
				of[i] = of[k]
			}
		}
	}
	return of, ok
}

// covered is the ground covered by the discs of some finds, counted at points half a metre apart.
func covered(finds []find) float64 {
	area := 0.0
	west, south, east, north := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, f := range finds {
		r := math.Sqrt(f.area / math.Pi)
		west, south, east, north = min(west, f.x-r), min(south, f.y-r), max(east, f.x+r), max(north, f.y+r)
	}
	for x := west + 0.25; x < east; x += 0.5 {
		for y := south + 0.25; y < north; y += 0.5 {
			if slices.ContainsFunc(finds, func(f find) bool { return math.Pi*((x-f.x)*(x-f.x)+(y-f.y)*(y-f.y)) <= f.area }) {
				area += 0.25
			}
		}
	}
	return area
}

// TestMapAgainstAPlainModel: a hundred surveys of up to thirty finds: which finds form a stand,
// which are isolated, their infested acres point by point, and their cover by area.
func TestMapAgainstAPlainModel(t *testing.T) {
	dice := rand.New(rand.NewPCG(9, 2))
	middle := places["south of the equator"]
	several := 0
	for n := 0; n < 100; {
		s := DefaultSettings()
		s.JoinDistance, s.MinPoints = geo.Meters(15+20*dice.Float64()), 1+dice.IntN(4)
		var finds []find
		var records []survey.Record
		wide := 60 + 200*dice.Float64()
		for i := range 1 + dice.IntN(30) {
			f := find{wide * dice.Float64(), wide * dice.Float64(), 20 + 400*dice.Float64(), float64(dice.IntN(101))}
			r := record(fmt.Sprintf("%03d", i), middle, f.x, f.y)
			r.PatchArea, r.Cover = geo.SquareMeters(f.area), f.cover
			finds, records = append(finds, f), append(records, r)
		}
		of, ok := plainStands(finds, s)
		if !ok {
			continue
		}
		n++
		stands := mapped(t, records, s)
		together := map[int][]int32{}
		for i, first := range of {
			together[first] = append(together[first], int32(i))
		}
		if len(stands) != len(together) {
			t.Fatalf("survey %d: %d stands, want %d", n, len(stands), len(together))
		}
		for k, st := range stands {
			want := together[of[st.Members[0]]]
			if !slices.Equal(st.Members, want) || st.ID != fmt.Sprintf("2026Q3-%04d", k+1) {
				t.Fatalf("survey %d: %s of %v, want %v", n, st.ID, st.Members, want)
			}
			alone := len(want) == 1 && s.MinPoints > 1
			if st.Isolated != alone {
				t.Fatalf("survey %d: %s stands alone: %v", n, st.ID, st.Isolated)
			}
			var own []find
			area, under := 0.0, 0.0
			for _, m := range want {
				own = append(own, finds[m])
				area, under = area+finds[m].area, under+finds[m].area*finds[m].cover/100
			}
			if got, by := float64(st.Infested), covered(own); math.Abs(got-by) > 0.01*by+3 {
				t.Fatalf("survey %d: %s covers %.1f m2, by points %.1f", n, st.ID, got, by)
			}
			if math.Abs(st.CoverPercent-100*under/area) > 1e-9 || math.Abs(float64(st.Canopy)-float64(st.Infested)*under/area) > 1e-6 {
				t.Fatalf("survey %d: %s has %g %% cover, want %g", n, st.ID, st.CoverPercent, 100*under/area)
			}
			if len(want) > 2 {
				several++
			}
		}
	}
	if several < 80 {
		t.Errorf("%d stands of three and more: the surveys try too little", several)
	}
}

// TestGrossOfASmallStand: two finds with a waist between them that together cover just less than a
// tenth of an acre, 404.69 m2, are their own perimeter; if slightly larger, the waist is closed; by
// hand.
func TestGrossOfASmallStand(t *testing.T) {
	middle := places["mid north"]
	for each, closed := range map[geo.SquareMeters]bool{202.3: false, 202.4: true} { // apart: 2 x 202.3 = 404.6
		records := []survey.Record{record("a", middle, 0, 0), record("b", middle, 18, 0)}
		records[0].PatchArea, records[1].PatchArea = each, each
		st := Build(records, []int32{0, 1}, DefaultSettings())
		if math.Abs(float64(st.Infested-2*each)) > 1e-6 || (st.Gross > st.Infested) != closed {
			t.Errorf("two of %g m2: infested %g, gross %g", float64(each), float64(st.Infested), float64(st.Gross))
		}
	}
}

// TestSettingsAtTheEdge: the stated defaults; values at the limits of a range are accepted, beyond
// them not.
func TestSettingsAtTheEdge(t *testing.T) {
	if got := DefaultSettings(); got != (Settings{JoinDistance: 30, MinPoints: 3, DefaultPatch: 0.1, DefaultCover: 60, Chord: 0.1}) {
		t.Errorf("%+v", got)
	}
	for i, test := range []struct {
		set func(s *Settings)
		ok  bool
	}{
		{func(s *Settings) {
			s.JoinDistance, s.MinPoints, s.DefaultPatch, s.DefaultCover, s.Chord = 0.5, 1, 0.001, 0, 0.001
		}, true}, {func(s *Settings) { s.DefaultCover = 100 }, true},
		{func(s *Settings) { s.JoinDistance = 0 }, false}, {func(s *Settings) { s.MinPoints = 0 }, false}, {func(s *Settings) { s.DefaultPatch = 0 }, false},
		{func(s *Settings) { s.DefaultCover = -0.5 }, false}, {func(s *Settings) { s.DefaultCover = 100.5 }, false}, {func(s *Settings) { s.Chord = 0 }, false},
	} {
		s := DefaultSettings()
		if test.set(&s); (s.Validate() == nil) != test.ok {
			t.Errorf("%d: %v", i, s.Validate())
		}
	}
}

// TestWidthOfPacking: an outline of up to 21.4 degrees is stored to a hundred-millionth of a
// degree, a wider one to a ten-millionth, wide in either direction.
func TestWidthOfPacking(t *testing.T) {
	const fine = 1.23456789e-3
	for wide, off := range map[float64]float64{21.4: 0.51e-8, -21.4: 0.51e-8, 21.5: 0.51e-7, -21.5: 0.51e-7} {
		for _, ring := range []orb.Ring{{{0, 0}, {wide, fine}, {fine, 1 + fine}, {0, 0}}, {{0, 0}, {1 + fine, fine}, {fine, wide}, {0, 0}}} {
			got := Pack(orb.MultiPolygon{{ring}}).Polygons()[0][0]
			worst := 0.0
			for i, p := range ring {
				worst = max(worst, math.Abs(got[i][0]-p[0]), math.Abs(got[i][1]-p[1]))
			}
			if worst > off || off > 1e-8 && worst < 1e-9 {
				t.Errorf("%g degrees: off by %g", wide, worst)
			}
		}
	}
}
