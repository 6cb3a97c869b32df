package shape

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// ringThrough is a ring through places on a grid.
func ringThrough(places ...[2]float64) orb.Ring {
	var r orb.Ring
	for _, p := range places {
		r = append(r, p)
	}
	return append(r, r[0])
}

// TestOnlyTouch: areas by hand, with what the definition says of each (OGC Simple Features, 6.1.11 and
// 6.1.14). The library must agree; where the answer is false though the area is valid, it is asked.
func TestOnlyTouch(t *testing.T) {
	board := ringThrough([2]float64{0, 0}, [2]float64{8, 0}, [2]float64{8, 4}, [2]float64{8, 8}, [2]float64{0, 8}, [2]float64{0, 4})
	hole := ringThrough([2]float64{0, 4}, [2]float64{2, 6}, [2]float64{4, 4}, [2]float64{2, 2})
	beside := ringThrough([2]float64{4, 4}, [2]float64{6, 6}, [2]float64{7, 4}, [2]float64{6, 2})
	across := ringThrough([2]float64{4, 4}, [2]float64{6, 6}, [2]float64{8, 4}, [2]float64{6, 2})
	low := ringThrough([2]float64{4, 4}, [2]float64{3, 1}, [2]float64{5, 1})
	for name, c := range map[string]struct {
		mp          orb.MultiPolygon
		proved, may bool // may: it is valid
	}{
		"apart":                          {orb.MultiPolygon{{board}}, true, true},
		"a hole at a corner":             {orb.MultiPolygon{{board, hole}}, true, true},
		"two holes, one at the other":    {orb.MultiPolygon{{board, hole, beside}}, true, true},
		"three holes at one place":       {orb.MultiPolygon{{board, hole, beside, low}}, true, true},
		"holes from side to side":        {orb.MultiPolygon{{board, hole, across}}, false, false},
		"polygons corner to corner":      {orb.MultiPolygon{{hole}, {across}}, true, true},
		"polygons in each other's hole":  {orb.MultiPolygon{{board, hole}, {ringThrough([2]float64{2, 6}, [2]float64{1, 4}, [2]float64{2, 3})}}, true, true},
		"a hole from corner to corner":   {orb.MultiPolygon{{board, ringThrough([2]float64{0, 4}, [2]float64{4, 5}, [2]float64{8, 4}, [2]float64{4, 3})}}, false, false},
		"polygons with a side in common": {orb.MultiPolygon{{board}, {ringThrough([2]float64{8, 0}, [2]float64{9, 0}, [2]float64{8, 4})}}, false, false},
		"polygons that cross where both have a corner": {orb.MultiPolygon{
			{ringThrough([2]float64{0, 0}, [2]float64{2, 2}, [2]float64{4, 4}, [2]float64{4, 0})}, {ringThrough([2]float64{0, 2}, [2]float64{2, 2}, [2]float64{5, 2}, [2]float64{3, 5})}}, false, false},
		"a polygon in another":        {orb.MultiPolygon{{board}, {hole}}, false, false},
		"a polygon in another, apart": {orb.MultiPolygon{{board}, {low}}, false, false},
		"a polygon in a hole":         {orb.MultiPolygon{{ringThrough([2]float64{-9, -9}, [2]float64{9, -9}, [2]float64{9, 9}, [2]float64{-9, 9}), board}, {low}}, true, true},
		"a hole beside its polygon":   {orb.MultiPolygon{{hole, across}}, false, false},
		"a hole in a hole":            {orb.MultiPolygon{{ringThrough([2]float64{-9, -9}, [2]float64{9, -9}, [2]float64{9, 9}, [2]float64{-9, 9}), board, low}}, false, false},
		"a corner on a side":          {orb.MultiPolygon{{board}, {ringThrough([2]float64{8, 2}, [2]float64{9, 3}, [2]float64{9, 1})}}, false, true},
		"a ring that touches itself":  {orb.MultiPolygon{{ringThrough([2]float64{0, 0}, [2]float64{2, 2}, [2]float64{4, 0}, [2]float64{4, 4}, [2]float64{2, 2}, [2]float64{0, 4})}}, false, false},
	} {
		if got := onlyTouch(c.mp, gridClear); got != c.proved {
			t.Errorf("%s: %v", name, got)
		}
		if err := Valid(c.mp); (err == nil) != c.may {
			t.Errorf("%s: the library says %v", name, err)
		}
	}
}

// TestWhatOnlyTouchesIsValid: boards of squares, some turned by an eighth so that corners meet corners.
// Whatever is proved to touch only, the library finds valid.
func TestWhatOnlyTouchesIsValid(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	proved, touching := 0, 0
	for range 400 {
		var all []border
		for range 2 + rng.IntN(25) {
			x, y, r := float64(2*rng.IntN(8)), float64(2*rng.IntN(8)), float64(1+rng.IntN(3))
			ring := ringThrough([2]float64{x - r, y - r}, [2]float64{x + r, y - r}, [2]float64{x + r, y + r}, [2]float64{x - r, y + r})
			if rng.IntN(2) == 0 {
				ring = ringThrough([2]float64{x - r, y}, [2]float64{x, y - r}, [2]float64{x + r, y}, [2]float64{x, y + r})
			}
			all = appendBorders(all, ring, true, 0)
		}
		faces, ok := facesOf(nodedOn(evenOddEdges(all), 1))
		if !ok {
			continue
		}
		if !onlyTouch(faces, gridClear) {
			continue
		}
		if proved++; !isClear(faces, gridClear) {
			touching++
		}
		if err := Valid(faces); err != nil {
			t.Errorf("%v, of %v", err, faces)
		}
	}
	if touching < 100 {
		t.Errorf("of %d boards that were proved valid, %d touch", proved, touching)
	}
}
