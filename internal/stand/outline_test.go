package stand

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// Unpacked vertices are within half a step of the packed ones, ring by ring, with holes in their
// polygons, across 180 degrees too.
func TestOutlineRoundTrip(t *testing.T) {
	square := func(x, y, half float64) orb.Ring {
		return orb.Ring{{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}, {x - half, y - half}}
	}
	for name, mp := range map[string]orb.MultiPolygon{
		"nothing":                 {},
		"one ring":                {{square(179.9999, -17, 0.001)}},
		"a hole and another part": {{square(-60, 70, 0.01), square(-60, 70, 0.001)}, {square(-60.1, 70.1, 0.002)}},
	} {
		if diff := cmp.Diff(numbers(mp), numbers(Pack(mp).Polygons()), cmpopts.EquateApprox(0, 0.51e-8)); diff != "" {
			t.Errorf("%s: (-packed +unpacked)\n%s", name, diff)
		}
	}
}

// A chain of points may make a stand of any width: it is packed more coarsely, and still there.
func TestOutlineOfAChain(t *testing.T) {
	wide := orb.MultiPolygon{{{{-170, -60}, {43, -60}, {43, 89}, {-170, 89}, {-170, -60}}}}
	if diff := cmp.Diff(numbers(wide), numbers(Pack(wide).Polygons()), cmpopts.EquateApprox(0, 0.51e-7)); diff != "" {
		t.Error(diff)
	}
}

// numbers lays a shape out as plain numbers, which compare with a tolerance.
func numbers(mp orb.MultiPolygon) [][][][2]float64 {
	out := make([][][][2]float64, len(mp))
	for i, polygon := range mp {
		for _, ring := range polygon {
			var plain [][2]float64
			for _, p := range ring {
				plain = append(plain, p)
			}
			out[i] = append(out[i], plain)
		}
	}
	return out
}

// Packing is stable: what was unpacked packs to the same.
func TestOutlineIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "vertices")
		ring := make(orb.Ring, 0, n+1)
		for i := range n {
			r := rapid.Float64Range(1e-6, 0.01).Draw(t, "r")
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			ring = append(ring, orb.Point{12 + r*cos, -45 + r*sin})
		}
		once := Pack(orb.MultiPolygon{{append(ring, ring[0])}})
		if diff := cmp.Diff(once.packed, Pack(once.Polygons()).packed, cmp.AllowUnexported(shape.Packed{})); diff != "" && len(once.Polygons()) > 0 {
			// the origin is the first vertex, which packs to itself
			t.Fatalf("packed again: %s", diff)
		}
	})
}

// Slivers narrower than a millimetre leave no ring of fewer than three vertices.
func TestOutlineDropsWhatVanishes(t *testing.T) {
	sliver := orb.Ring{{0, 0}, {1e-10, 0}, {1e-10, 1e-10}, {0, 0}}
	if got := Pack(orb.MultiPolygon{{sliver}}).Polygons(); len(got) != 0 {
		t.Errorf("a sliver gave %v", got)
	}
}

// The box is that of the unpacked outline.
func TestOutlineBound(t *testing.T) {
	square := func(x, y, half float64) orb.Ring {
		return orb.Ring{{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}, {x - half, y - half}}
	}
	for name, mp := range map[string]orb.MultiPolygon{
		"nothing": {}, "one ring": {{square(179.9999, -17, 0.001)}}, "two parts": {{square(-60, 70, 0.01)}, {square(-60.1, 70.1, 0.002)}},
	} {
		want := orb.Bound{}
		if len(mp) > 0 {
			want = Pack(mp).Polygons().Bound()
		}
		if got := Pack(mp).Bound(); got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

// The area of a drawn patch is the geodesic one (geo/earth, compared with GeographicLib) less its
// hole, and a bow tie has the area of its two wings.
func TestOutlineArea(t *testing.T) {
	ring := func(middle orb.Point, half float64) orb.Ring {
		x, y := middle[0], middle[1]
		return orb.Ring{{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}, {x - half, y - half}}
	}
	for _, middle := range []orb.Point{{0, 0}, {-118.2, 34.1}, {25, 70}, {179.9999, -17}} {
		patch := orb.MultiPolygon{{ring(middle, 0.0005), ring(middle, 0.0001)}}
		got, want := OutlineArea(patch), earth.RingArea(patch[0][0])-earth.RingArea(patch[0][1])
		if !(math.Abs(float64(got/want-1)) < 1e-6) {
			t.Errorf("%v: %.4f m2, want %.4f", middle, got, want)
		}
	}
	const s = 0.0005
	tie := orb.Ring{{-s, -s}, {s, s}, {s, -s}, {-s, s}, {-s, -s}} // crosses itself in the middle: half of the square
	got, want := OutlineArea(orb.MultiPolygon{{tie}}), earth.RingArea(ring(orb.Point{}, s))/2
	if !(math.Abs(float64(got/want-1)) < 1e-6) {
		t.Errorf("bow tie: %.4f m2, want %.4f", got, want)
	}
}

// A vertex that falls on the first one, before the ring closes, is left out.
func TestOutlineClosesOnce(t *testing.T) {
	ring := orb.Ring{{10, 20}, {10.001, 20}, {10.001, 20.001}, {10, 20.001}, {10 + 1e-10, 20 + 1e-10}, {10, 20}}
	want := orb.MultiPolygon{{{ring[0], ring[1], ring[2], ring[3], ring[0]}}}
	if diff := cmp.Diff(numbers(want), numbers(Pack(orb.MultiPolygon{{ring}}).Polygons()), cmpopts.EquateApprox(0, 0.51e-8)); diff != "" {
		t.Error(diff)
	}
}
