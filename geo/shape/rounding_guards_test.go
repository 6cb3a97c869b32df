package shape

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// almostLattice is a closed ring through the places of a small lattice, each moved by a little more
// than the grain of its size. Rounding to that grain makes the sides of some such rings
// inconsistent.
func almostLattice(seed uint64) orb.Ring {
	rng := rand.New(rand.NewPCG(seed, 11))
	width, blur := 2+rng.IntN(2), []float64{3e-11, 1e-10}[rng.IntN(2)]
	var r orb.Ring
	for range 12 + rng.IntN(8) {
		r = append(r, orb.Point{float64(rng.IntN(width+1))/3 + blur*rng.Float64(), float64(rng.IntN(width+1))/7 + blur*rng.Float64()})
	}
	return slices.Compact(append(r, r[0]))
}

// facesAt is what evenOddArea makes of a ring at one grain.
func facesAt(r orb.Ring, grain float64) (orb.MultiPolygon, bool) {
	faces, ok := facesOf(noded(r, grain))
	if !ok {
		return nil, false
	}
	if exact, ok := validNormal(givenBack(faces, r, grain)); ok {
		return exact, true
	}
	return validNormal(faces)
}

// nearTwins are two angles a kilometre wide that cross, with a star of a third of a metre in both.
// The two stars are equal except for the last bit of their corners. b is nil where that makes a
// star cross itself.
func nearTwins(seed uint64, off float64) (a, b orb.MultiPolygon) {
	rng := rand.New(rand.NewPCG(seed, 12))
	one := starAt(rng, orb.Point{off + 500, off + 500}, 0.3)
	other := one.Clone()
	bit := math.Nextafter(off+500, math.Inf(1)) - (off + 500)
	for _, polygon := range other {
		for _, r := range polygon {
			for i := range r[1:] {
				r[i][0], r[i][1] = r[i][0]+bit*float64(rng.IntN(3)-1), r[i][1]+bit*float64(rng.IntN(3)-1)
			}
			r[len(r)-1] = r[0]
		}
	}
	if Valid(other) != nil {
		return nil, nil
	}
	angle := func(from, to, wide float64) orb.Polygon {
		from, to = off+from, off+to
		return orb.Polygon{{{from, from}, {to, from}, {to, to}, {to - wide, to}, {to - wide, from + wide}, {from, from + wide}, {from, from}}}
	}
	return append(orb.MultiPolygon{angle(0, 1000, 100)}, one...), append(orb.MultiPolygon{angle(50, 1050, 100)}, other...)
}

// TestCoarserGrain: rings whose sides the first grain makes inconsistent. A coarser grain has their
// area, which exact fractions give, valid. The seeds are those of the first such rings.
func TestCoarserGrain(t *testing.T) {
	for _, seed := range []uint64{319, 338, 499, 535, 596, 618, 983, 1110} {
		r := almostLattice(seed)
		if _, ok := facesAt(r, grainOf(r)); ok {
			t.Errorf("ring %d: the first grain is coarse enough", seed)
		}
		got := evenOddArea(r)
		if want := exactEvenOddArea(r); want < 1e-3 || math.Abs(float64(Area(got))-want) > 1e-9 || Valid(got) != nil {
			t.Errorf("ring %d: %v m2, want %v; %v", seed, Area(got), want, Valid(got))
		}
	}
}

// TestJoinOfNearTwinsFarFromTheOrigin: two areas a million metres from the origin, of which two
// small parts are equal but for rounding. Followed alone, their outlines keep such a part twice or
// not at all. The union has the 285000 m2 of the two angles, by hand, and one of the parts. The
// seeds are those of the first such areas.
func TestJoinOfNearTwinsFarFromTheOrigin(t *testing.T) {
	for _, seed := range []uint64{15451, 16423, 35194, 38469, 42355, 62187} {
		a, b := nearTwins(seed, 1e6)
		out, ok := facesBeside(outsideOther(cutByOther(a, b), [2]orb.MultiPolygon{a, b}))
		want := 285000 + float64(Area(a)) - 190000
		if !ok || math.Abs(float64(Area(out))-want) < 1e-3 {
			t.Errorf("areas %d: the outlines alone have %v m2 (%v), no fault", seed, Area(out), ok)
		}
		for _, got := range []orb.MultiPolygon{Join(a, b), Join(b, a)} {
			if math.Abs(float64(Area(got))-want) > 1e-4 || Valid(got) != nil {
				t.Errorf("areas %d: %.6f m2, want %.6f; %v", seed, Area(got), want, Valid(got))
			}
		}
	}
}
