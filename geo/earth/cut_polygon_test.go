package earth

import (
	"math"
	"slices"
	"testing"

	"driftreach/geo"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"
)

// rectangle is counter-clockwise and closed.
func rectangle(west, south, east, north float64) orb.Ring {
	return orb.Ring{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}
}

// clockwise returns a ring turned round.
func clockwise(r orb.Ring) orb.Ring {
	r = slices.Clone(r)
	slices.Reverse(r)
	return r
}

// Numbers of pieces, holes and areas in square degrees derived by hand.
func TestCutPolygon(t *testing.T) {
	for _, c := range []struct {
		name  string
		in    orb.Polygon
		areas []float64 // of the pieces, west to east
		holes int
	}{
		{"inside", orb.Polygon{rectangle(-180, 0, 180, 1)}, []float64{360}, 0},
		{"inside, clockwise", orb.Polygon{clockwise(rectangle(170, 0, 180, 1))}, []float64{10}, 0},
		{"inside, open", orb.Polygon{rectangle(170, 0, 180, 1)[:4]}, []float64{10}, 0},
		{"across", orb.Polygon{rectangle(179, 0, 182, 1)}, []float64{1, 2}, 0},
		{"across, clockwise", orb.Polygon{clockwise(rectangle(179, 0, 182, 1))}, []float64{1, 2}, 0},
		{"across, open", orb.Polygon{rectangle(179, 0, 182, 1)[:4]}, []float64{1, 2}, 0},
		{"across on the west side", orb.Polygon{rectangle(-182, 0, -179, 1)}, []float64{2, 1}, 0},
		{"a turn away", orb.Polygon{rectangle(181, 0, 182, 1)}, []float64{1}, 0},
		{"touches from the east", orb.Polygon{rectangle(180, 0, 182, 1)}, []float64{2}, 0},
		{"touches from the west", orb.Polygon{rectangle(178, 0, 180, 1)}, []float64{2}, 0},
		{"hole on the cut", orb.Polygon{rectangle(178, 0, 182, 4), rectangle(179, 1, 181, 3)}, []float64{6, 6}, 0},
		{"hole west", orb.Polygon{rectangle(178, 0, 182, 4), rectangle(178.5, 1, 179.5, 3)}, []float64{6, 8}, 1},
		{"hole east", orb.Polygon{rectangle(178, 0, 182, 4), rectangle(180.5, 1, 181.5, 3)}, []float64{8, 6}, 1},
		{"hole with an edge on the cut", orb.Polygon{rectangle(178, 0, 182, 4), {{179, 2}, {180, 1}, {180, 3}}}, []float64{7, 8}, 0},
		{"hole touches the cut once", orb.Polygon{rectangle(178, 0, 182, 4), {{179, 1}, {179, 3}, {180, 2}}}, []float64{7, 8}, 1},
		{"hole touches the cut twice", orb.Polygon{rectangle(178, 0, 182, 4), {{179, 1}, {179, 3}, {180, 3}, {179.5, 2}, {180, 1}}}, []float64{6, 0.5, 8}, 0},
		{
			"comb: three teeth east",
			orb.Polygon{{{179, 0}, {181, 0}, {181, 1}, {179.5, 1}, {179.5, 2}, {181, 2}, {181, 3}, {179.5, 3}, {179.5, 4}, {181, 4}, {181, 5}, {179, 5}}},
			[]float64{3.5 + 0.5, 1, 1, 1}, 0,
		},
		{
			"comb: three teeth west, a hole in the middle one",
			orb.Polygon{
				{{181, 0}, {181, 5}, {179, 5}, {179, 4}, {180.5, 4}, {180.5, 3}, {179, 3}, {179, 2}, {180.5, 2}, {180.5, 1}, {179, 1}, {179, 0}},
				rectangle(179.2, 2.2, 179.8, 2.7),
			},
			[]float64{1, 1 - 0.3, 1, 4}, 1,
		},
		{
			"comb: three teeth west, a hole in each of two",
			orb.Polygon{
				{{181, 0}, {181, 5}, {179, 5}, {179, 4}, {180.5, 4}, {180.5, 3}, {179, 3}, {179, 2}, {180.5, 2}, {180.5, 1}, {179, 1}, {179, 0}},
				rectangle(179.2, 0.2, 179.8, 0.7), rectangle(179.2, 4.2, 179.8, 4.4),
			},
			[]float64{1 - 0.3, 1, 1 - 0.12, 4}, 2,
		},
		{
			"tooth ends on the cut", orb.Polygon{{{178, 0}, {179, 0}, {180, 1}, {179, 2}, {178, 2}}},
			[]float64{3}, 0,
		},
		{
			"notch ends on the cut", orb.Polygon{{{178, 0}, {182, 0}, {182, 1}, {180, 1.5}, {182, 2}, {182, 3}, {178, 3}}},
			[]float64{6, 2.5, 2.5}, 0,
		},
		{"three turns wide", orb.Polygon{rectangle(-200, 0, 560, 1)}, []float64{20, 360, 360, 20}, 0},
	} {
		got := CutPolygon(orb.MultiPolygon{c.in})
		checkCut(t, c.name, got)
		holes := 0
		var areas []float64
		for _, p := range got {
			holes += len(p) - 1
			areas = append(areas, float64(geo.PolygonArea(orb.MultiPolygon{p})))
		}
		slices.Sort(areas)
		want := slices.Sorted(slices.Values(c.areas))
		if holes != c.holes || len(areas) != len(want) {
			t.Errorf("%s: %d holes, pieces %v, want %d, %v", c.name, holes, areas, c.holes, want)
			continue
		}
		for i := range areas {
			near(t, c.name, areas[i], want[i], 1e-9)
		}
	}
	if got := CutPolygon(orb.MultiPolygon{nil, {}, {nil}, {{{1, 1}, {2, 2}}}}); len(got) != 0 {
		t.Errorf("nothing gives %v", got)
	}
}

// checkCut fails unless every piece lies inside, is closed, wound after RFC 7946
// and valid after OGC simple features, by the polygon library's own check.
func checkCut(t interface{ Fatalf(string, ...any) }, name string, mp orb.MultiPolygon) {
	for _, p := range mp {
		var rings []geom.LineString
		for i, r := range p {
			if west, east := lonRange(r); west < -180 || east > 180 {
				t.Fatalf("%s: piece reaches %v to %v", name, west, east)
			}
			if len(r) < 4 || r[0] != r[len(r)-1] {
				t.Fatalf("%s: ring is not closed: %v", name, r)
			}
			if area := geo.RingArea(r); area == 0 || (area > 0) != (i == 0) {
				t.Fatalf("%s: ring %d has area %v", name, i, area)
			}
			var flat []float64
			for _, v := range r {
				flat = append(flat, v[0], v[1])
			}
			rings = append(rings, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
		}
		if err := geom.NewPolygon(rings).Validate(); err != nil {
			t.Fatalf("%s: %v in %v", name, err, p)
		}
	}
}

// A star with a star-shaped hole, sometimes snapped to the cut: pieces are valid and keep the area.
func TestCutPolygonKeepsTheShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		edge := rapid.SampledFrom([]float64{180, -180, 540}).Draw(t, "edge")
		centre := orb.Point{edge + rapid.Float64Range(-3, 3).Draw(t, "lon"), rapid.Float64Range(-60, 60).Draw(t, "lat")}
		spokes := func(least, most float64) orb.Ring {
			n := rapid.IntRange(4, 16).Draw(t, "spokes")
			var r orb.Ring
			for i := range n {
				d := rapid.Float64Range(least, most).Draw(t, "radius")
				s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				r = append(r, orb.Point{centre[0] + d*c, centre[1] + d*s})
			}
			return append(r, r[0])
		}
		p := orb.Polygon{spokes(2, 5), spokes(0.2, 1)}
		want := geo.PolygonArea(orb.MultiPolygon{p})
		got := CutPolygon(orb.MultiPolygon{p})
		checkCut(t, "star", got)
		near(t, "area", float64(geo.PolygonArea(got)), float64(want), 1e-9)
		// away from the cut, the pieces' outline is no longer than the original
		outline := 0.0
		for _, piece := range got {
			for _, r := range piece {
				for i := 1; i < len(r); i++ {
					if math.Abs(r[i][0]) != 180 || r[i][0] != r[i-1][0] {
						outline += plainLength(orb.LineString{r[i-1], r[i]})
					}
				}
			}
		}
		near(t, "outline", outline, plainLength(orb.LineString(p[0]))+plainLength(orb.LineString(p[1])), 1e-8)
	})
}

// Frame and cut together: a disc on the antimeridian keeps its geodesic area.
func TestCutPolygonAfterFrame(t *testing.T) {
	f := NewFrame(orb.Point{179.9995, -17})
	var disc orb.Ring
	for i := range 64 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 64)
		disc = append(disc, orb.Point{100 * c, 100 * s})
	}
	shape := f.Unproject(orb.MultiPolygon{{append(disc, disc[0])}})
	pieces := CutPolygon(shape)
	if len(pieces) != 2 {
		t.Fatalf("%d pieces", len(pieces))
	}
	near(t, "area", float64(Area(pieces)), float64(geo.RingArea(disc)), 1e-4)
	near(t, "area before the cut", float64(Area(shape)), float64(geo.RingArea(disc)), 1e-4)
}

func TestCutPolygonLeavesItsInputAlone(t *testing.T) {
	in := orb.Polygon{clockwise(rectangle(179, 0, 182, 1)), rectangle(179.2, 0.2, 179.8, 0.8)}
	before := in.Clone()
	CutPolygon(orb.MultiPolygon{in})
	if !in.Equal(before) {
		t.Error("input was changed")
	}
}

// TestContainsByHand: places in and out of a ring like a comb with slanting teeth, at every height:
// the model asks each side exactly, on whole numbers, which of its halves a place lies in.
func TestContainsByHand(t *testing.T) {
	ring := orb.Ring{{0, 0}, {40, 0}, {44, 20}, {36, 6}, {30, 24}, {26, 4}, {12, 30}, {14, 8}, {-6, 22}, {0, 0}}
	in := 0
	for x := -7; x < 46; x++ {
		for y := -1; y < 31; y++ {
			p := orb.Point{float64(x) + 0.25, float64(y) + 0.5}
			crossed := false // by a ray to the east; no vertex is as high as the place
			for i := 1; i < len(ring); i++ {
				low, high := ring[i-1], ring[i]
				if low[1] > high[1] {
					low, high = high, low
				}
				left := (high[0]-low[0])*(p[1]-low[1])-(high[1]-low[1])*(p[0]-low[0]) > 0
				crossed = crossed != (low[1] < p[1] && p[1] < high[1] && left)
			}
			if got := contains(ring, p); got != crossed {
				t.Errorf("%v: %v, want %v", p, got, crossed)
			}
			if crossed {
				in++
			}
		}
	}
	// 644 square units by the shoelace formula, by hand; the places are one to a unit
	if in < 644-10 || in > 644+10 {
		t.Errorf("%d places inside of 644", in)
	}
}

// TestHoleGoesToThePieceAroundIt: a comb whose three teeth lie west of the cut, slanting so that
// their boxes overlap, with a hole in one of them: the hole is in the piece of that tooth.
func TestHoleGoesToThePieceAroundIt(t *testing.T) {
	comb := orb.Ring{{181, 0}, {181, 9}, {180, 8}, {177, 11}, {180, 6}, {180.5, 5.5}, {180, 5}, {177, 8}, {180, 3}, {180.5, 2.5}, {180, 2}, {177, 5}, {180, 0}, {181, 0}}
	for k, hole := range []orb.Ring{
		{{178, 3.6}, {178.2, 3.7}, {178.2, 3.3}, {178, 3.6}}, {{178, 6.6}, {178.2, 6.7}, {178.2, 6.3}, {178, 6.6}}, {{178, 9.6}, {178.2, 9.7}, {178.2, 9.3}, {178, 9.6}},
	} {
		pieces := CutPolygon(orb.MultiPolygon{{comb, hole}})
		for _, p := range pieces {
			box := p[0].Bound()
			// the teeth end at 5, 8 and 11 degrees north
			if own := p[0][0][0] > 0 && math.Abs(box.Max[1]-float64(5+3*k)) < 1e-9; (len(p) == 2) != own {
				t.Errorf("hole %d: a piece up to %v with %d rings", k, box.Max, len(p))
			}
		}
		if len(pieces) != 4 {
			t.Errorf("hole %d: %d pieces", k, len(pieces))
		}
	}
}
