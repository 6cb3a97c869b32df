package shape

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// Derived by hand: three boxes and a diamond, each cut with the next.
func TestSkylineByHand(t *testing.T) {
	diamond := orb.MultiPolygon{{orb.Ring{{5, 0}, {10, 5}, {5, 10}, {0, 5}, {5, 0}}}}
	holed := orb.MultiPolygon{{rectangle(0, 0, 10, 10)[0][0], {{2, 2}, {2, 8}, {8, 8}, {8, 2}, {2, 2}}}}
	for _, c := range []struct {
		name string
		of   orb.MultiPolygon
		cuts []orb.MultiPolygon
		want float64
	}{
		{"alone", diamond, nil, 50},
		{"half", diamond, []orb.MultiPolygon{rectangle(0, 0, 5, 10)}, 25},
		{"a quarter", diamond, []orb.MultiPolygon{rectangle(0, 0, 5, 10), rectangle(-20, 5, 50, 50)}, 12.5},
		{"with itself", diamond, []orb.MultiPolygon{diamond, diamond}, 50},
		{"a hole", rectangle(0, 0, 10, 10), []orb.MultiPolygon{holed, rectangle(0, 0, 5, 10)}, 32},
		{"apart", diamond, []orb.MultiPolygon{rectangle(0, 0, 5, 10), rectangle(5, 0, 5, 10)}, 0},
		{"reaching far below and above", diamond, []orb.MultiPolygon{{{orb.Ring{{-100, -40}, {110, -40}, {5, 600}, {-100, -40}}}}, rectangle(-50, -50, 55, 100)}, 25},
		{"from beneath, slanting", rectangle(0, 0, 10, 10), []orb.MultiPolygon{{{orb.Ring{{0, -5}, {20, 15}, {0, 15}, {0, -5}}}}, rectangle(0, 0, 10, 5)}, 37.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := SkylineOf(c.of)
			for i, cut := range c.cuts {
				if i+1 == len(c.cuts) {
					within(t, "shared", s.Shared(cut), c.want, 1e-12)
				}
				s = s.Cut(cut)
			}
			if got := float64(s.Area()); math.Abs(got-c.want) > 1e-9 {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}

// Cutting twice without an outline and cutting with the library must give the same number.
func TestSkylineIsThatOfIntersections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := drawLines(t)
		a, b := UnionDiscs(drawDiscs(t)), BufferLines(lines, drawRadii(t, len(lines)), 8, 1)
		c := UnionDiscs(drawDiscs(t))
		got, want := SkylineOf(a).Cut(b).Shared(c), Area(Intersection(Intersection(a, b), c))
		if math.Abs(float64(got-want)) > 1e-6 {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

// The closing as a skyline has the exact closing's area, and in any part that of the closing drawn
// by the library, which has errors along its outline.
func TestClosingSkylineIsTheClosing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		discs := drawDiscs(t)
		gap := geo.Meters(rapid.SampledFrom([]float64{30, 6, 0.8}).Draw(t, "gap"))
		s := ClosingSkyline(discs, gap)
		want := float64(CloseDiscs(discs, gap))
		if got := float64(s.Area()); math.Abs(got-want) > 1e-7*want+1e-7 {
			t.Fatalf("%v, want %v", got, want)
		}
		at := rapid.Float64Range(-50, 100)
		part := rectangle(at.Draw(t, "x"), at.Draw(t, "y"), 60, 45)
		union := UnionDiscs(discs)
		got := float64(s.Shared(part))
		if least := float64(IntersectionArea(union, part)); got < least-0.01*math.Sqrt(want)-1e-3 {
			t.Fatalf("%v, less than the union's %v", got, least)
		}
	})
}

// Against the closing that the library draws, for stands as they are.
func TestClosingSkylineInParts(t *testing.T) {
	for _, stand := range stands(5, 12)[:12] {
		closed := Closing(UnionDiscs(stand), 30)
		box := closed.Bound()
		half := rectangle(box.Min[0]-1, box.Min[1]-1, (box.Max[0]-box.Min[0])/2+1, (box.Max[1]-box.Min[1])*0.6+1)
		got, want := float64(ClosingSkyline(stand, 30).Shared(half)), float64(IntersectionArea(closed, half))
		if math.Abs(got-want) > 1e-3*float64(Area(closed)) {
			t.Errorf("%d discs: %v, want %v of %v", len(stand), got, want, Area(closed))
		}
	}
}
