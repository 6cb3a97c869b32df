package aquatic

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// TestDissolveApart: streams of one water body that do not touch give one part where their zones
// touch, and several where not; the whole is the sum of the parts less what they share. By hand:
// strips with discs at their ends, reach 35 m.
func TestDissolveApart(t *testing.T) {
	const r = 35.0
	alone := 2*r*1000 + math.Pi*r*r
	for place, middle := range places {
		t.Run(place, func(t *testing.T) {
			a := centerline("a", middle, 10, orb.Point{0, 1000}, orb.Point{0, 0})
			near := centerline("b", middle, 10, orb.Point{50, 1000}, orb.Point{50, 0})
			far := centerline("c", middle, 10, orb.Point{3000, 1000}, orb.Point{3000, 0})
			zones := water(a, near, far).Dissolve(2)
			if len(zones) != 1 || len(zones[0].Geometry.Polygons()) != 2 || zones[0].Lines != 3 {
				t.Fatalf("zones %+v", zones)
			}
			// the strips share 20 m of width over 1000 m, plus the lens of their ends
			shared := 20*1000 + lens(r, 50)
			want := 3*alone - shared
			if math.Abs(float64(zones[0].Area)/want-1) > 2e-4 {
				t.Errorf("zone %.1f m2, want %.1f", zones[0].Area, want)
			}
		})
	}
}

// lens is the common area of two discs of radius r whose middles are d apart.
func lens(r, d float64) float64 {
	return 2*r*r*math.Acos(d/(2*r)) - d/2*math.Sqrt(4*r*r-d*d)
}

// TestApart: edges whose zones may touch stay together, edges whose zones cannot are separated;
// near the antimeridian all stay together.
func TestApart(t *testing.T) {
	for place, middle := range places {
		w := water(
			centerline("a", middle, 10, orb.Point{0, 1000}, orb.Point{0, 0}),
			centerline("b", middle, 10, orb.Point{69, 1000}, orb.Point{69, 0}),
			centerline("c", middle, 10, orb.Point{0, 9000}, orb.Point{0, 8000}),
		)
		groups := w.apart([]int32{0, 1, 2})
		atEnd := math.Abs(middle[0]) > 179.9
		if atEnd && len(groups) != 1 || !atEnd && len(groups) != 2 {
			t.Errorf("%s: %v", place, groups)
		}
	}
}

// TestCompact: a degree square is compact, anything larger is not, anywhere.
func TestCompact(t *testing.T) {
	for place, middle := range places {
		for _, c := range []struct {
			name string
			end  orb.Point
			want bool
		}{
			{"short", orb.Point{1000, 1000}, true},
			{"wide", orb.Point{113_000, 0}, false},
			{"tall", orb.Point{0, -113_000}, false},
		} {
			w := water(centerline("a", middle, 10, orb.Point{0, 0}, c.end))
			if got := compact(w.net.Paths.At(0).Bound()); got != c.want && math.Abs(middle[0]) < 178 {
				t.Errorf("%s, %s: %v", place, c.name, got)
			}
		}
	}
}
