package shape

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// These tests compare areas with convex polygons cut side by side: cutting one by all sides of
// another gives their intersection (Sutherland and Hodgman 1974, Reentrant Polygon Clipping), and
// everything else follows by inclusion and exclusion. They share no code with the package.

// someHull draws a convex polygon with whole coordinates around a middle.
func someHull(random *rand.Rand, middle orb.Point, size int) orb.Ring {
	for {
		places := make([]orb.Point, 3+random.IntN(9))
		for i := range places {
			places[i] = orb.Point{middle[0] + float64(random.IntN(2*size+1)-size), middle[1] + float64(random.IntN(2*size+1)-size)}
		}
		if hull := hullOf(places); len(hull) > 2 {
			return append(orb.Ring(hull), hull[0])
		}
	}
}

// leftOf is the part of a convex ring left of the line from a to b, with the line moved left by a
// distance.
func leftOf(ring orb.Ring, a, b orb.Point, moved float64) (out orb.Ring) {
	long := math.Hypot(b[0]-a[0], b[1]-a[1])
	off := func(p orb.Point) float64 { return turn(a, b, p)/long - moved }
	for i := 0; i+1 < len(ring); i++ {
		p, q := ring[i], ring[i+1]
		dp, dq := off(p), off(q)
		if dp >= 0 {
			out = append(out, p)
		}
		if dp >= 0 != (dq >= 0) {
			t := dp / (dp - dq)
			out = append(out, orb.Point{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
		}
	}
	if len(out) > 0 {
		out = append(out, out[0])
	}
	return out
}

// cutBy is the intersection of two convex rings.
func cutBy(a, b orb.Ring) orb.Ring {
	for i := 0; i+1 < len(b) && len(a) > 0; i++ {
		a = leftOf(a, b[i], b[i+1], 0)
	}
	return a
}

// areaOfRing is the area of a ring by the trapezoids under its sides.
func areaOfRing(r orb.Ring) (sum float64) {
	for i := 0; i+1 < len(r); i++ {
		sum += (r[i][0] - r[i+1][0]) * (r[i][1] + r[i+1][1]) / 2
	}
	return sum
}

func aroundOf(r orb.Ring) (sum float64) {
	for i := 0; i+1 < len(r); i++ {
		sum += math.Hypot(r[i+1][0]-r[i][0], r[i+1][1]-r[i][1])
	}
	return sum
}

// middles are where areas are: around the origin, beside it, and as far away as the corner of a
// projected country.
var middles = []orb.Point{{0, 0}, {-300, 150}, {412_000, -5_730_000}}

// TestConvexCombined: intersection, union, difference and the common area of skylines, for two
// convex areas in either winding, by cutting one along the other's sides.
func TestConvexCombined(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 1))
	for round := range 240 {
		middle := middles[round%3]
		a, b := someHull(random, middle, 20), someHull(random, orb.Point{middle[0] + float64(random.IntN(30)), middle[1]}, 20)
		shared, one, other := areaOfRing(shifted(cutBy(a, b), middle)), areaOfRing(shifted(a, middle)), areaOfRing(shifted(b, middle))
		as, bs := orb.MultiPolygon{{slices.Clone(a)}}, orb.MultiPolygon{{slices.Clone(b)}}
		if round%2 == 1 {
			slices.Reverse(as[0][0])
		}
		for name, c := range map[string]struct {
			got  geo.SquareMeters
			want float64
		}{
			"area": {Area(as), one}, "the other's": {Area(bs), other}, "shared": {IntersectionArea(as, bs), shared}, "shared the other way": {IntersectionArea(bs, as), shared},
			"intersection": {Area(Intersection(as, bs)), shared}, "union": {Area(Union([]orb.MultiPolygon{as, bs}, 1)), one + other - shared},
			"joined": {Area(Join(as, bs)), one + other - shared}, "difference": {Area(Difference(as, bs)), one - shared},
			"what is left of the other": {Area(Difference(bs, as)), other - shared}, "skyline": {SkylineOf(as).Area(), one},
			"skyline shared": {SkylineOf(as).Shared(bs), shared}, "skyline cut": {SkylineOf(bs).Cut(as).Area(), shared},
		} {
			if math.Abs(float64(c.got)-c.want) > 1e-6 {
				t.Fatalf("%s of %v and %v: %v, want %v", name, a, b, c.got, c.want)
			}
		}
	}
}

// shifted is a ring relative to another place, so that few digits are lost.
func shifted(r orb.Ring, by orb.Point) orb.Ring {
	out := make(orb.Ring, len(r))
	for i, p := range r {
		out[i] = orb.Point{p[0] - by[0], p[1] - by[1]}
	}
	return out
}

// someHulls returns n convex areas around places in a square of the given side, as rings and as
// areas.
func someHulls(random *rand.Rand, n, side int) ([]orb.Ring, []orb.MultiPolygon) {
	rings, areas := make([]orb.Ring, n), make([]orb.MultiPolygon, n)
	for i := range rings {
		rings[i] = someHull(random, orb.Point{float64(random.IntN(side)), float64(random.IntN(side))}, 18)
		areas[i] = orb.MultiPolygon{{rings[i]}}
	}
	return rings, areas
}

// TestManyConvexUnited: for up to five convex areas, the union by inclusion and exclusion over all
// subsets, each cut side by side; in any order; and the area common to three by a skyline cut
// twice.
func TestManyConvexUnited(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 2))
	for range 80 {
		n := 2 + random.IntN(4)
		rings, parts := someHulls(random, n, 40)
		want := 0.0
		for set := 1; set < 1<<n; set++ {
			var common orb.Ring
			sign := -1.0
			for i := range rings {
				if set>>i&1 == 0 {
					continue
				}
				if sign = -sign; common == nil {
					common = rings[i]
				} else if common = cutBy(common, rings[i]); len(common) == 0 {
					common = orb.Ring{} // nothing, and nothing in common with any other
				}
			}
			want += sign * areaOfRing(common)
		}
		if got := Area(Union(parts, 2)); math.Abs(float64(got)-want) > 1e-7 {
			t.Fatalf("union of %v: %v, want %v", rings, got, want)
		}
		random.Shuffle(n, func(i, j int) { parts[i], parts[j], rings[i], rings[j] = parts[j], parts[i], rings[j], rings[i] })
		if got := Area(Union(parts, 1)); math.Abs(float64(got)-want) > 1e-7 {
			t.Fatalf("union of %v in another order: %v, want %v", rings, got, want)
		}
		if n < 3 {
			continue
		}
		three := areaOfRing(cutBy(cutBy(rings[0], rings[1]), rings[2]))
		if got := SkylineOf(parts[0]).Cut(parts[1]).Cut(parts[2]).Area(); math.Abs(float64(got)-three) > 1e-7 {
			t.Fatalf("%v have %v in common, want %v", rings[:3], got, three)
		}
		if got := SkylineOf(parts[2]).Cut(parts[0]).Shared(parts[1]); math.Abs(float64(got)-three) > 1e-7 {
			t.Fatalf("%v share %v, want %v", rings[:3], got, three)
		}
	}
}

// TestConvexGrownAndShrunk: a convex area grown by r gains r along its sides and a circle
// (Steiner), slightly less because arcs are chords; shrunk, it is the part r left of every side.
// Grown again by the same distance it is nowhere larger than before.
func TestConvexGrownAndShrunk(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 3))
	const quadrant = 16
	for round := range 60 {
		ring := someHull(random, middles[round%2], 20)
		mp, r := orb.MultiPolygon{{ring}}, 0.5+4*random.Float64()
		area, around := areaOfRing(ring), aroundOf(ring)
		grown := float64(Area(BufferPolygon(mp, geo.Meters(r), quadrant)))
		// each arc has chords of about a sixteenth of a quarter circle: a chord of angle x loses r2/2
		// (x - sin x)
		step := math.Pi / 2 / quadrant
		loss := 2.5 * r * r / 2 * (step - math.Sin(step)) * (2*math.Pi/step + float64(len(ring)))
		if most := area + r*around + math.Pi*r*r; grown > most+1e-6 || grown < most-loss-1e-6 {
			t.Fatalf("%v grown by %v: %v, want %v, %v less at most", ring, r, grown, most, loss)
		}
		inner := ring
		for i := 0; i+1 < len(ring) && len(inner) > 0; i++ {
			inner = leftOf(inner, ring[i], ring[i+1], r)
		}
		shrunk := BufferPolygon(mp, geo.Meters(-r), quadrant)
		if want := areaOfRing(inner); math.Abs(float64(Area(shrunk))-want) > 1e-6 {
			t.Fatalf("%v shrunk by %v: %v, want %v", ring, r, Area(shrunk), want)
		}
		if again := BufferPolygon(shrunk, geo.Meters(r), quadrant); float64(Area(Difference(again, mp))) > 1e-6 {
			t.Fatalf("%v opened by %v gains %v", ring, r, Area(Difference(again, mp)))
		}
		// a convex area is closed already
		if closed := Closing(mp, geo.Meters(r)); math.Abs(float64(Area(closed))-area) > 0.01*r*around {
			t.Fatalf("%v closed by %v: %v, want %v", ring, r, Area(closed), area)
		}
	}
}

// TestPick: for areas with whole coordinates, one with holes, the area is the number of lattice
// points inside, plus half of those on its outline, less one for the outline, plus one for each
// hole (Pick 1899). Points on the outline are counted by common divisors, points inside by testing
// each: this checks Contains and Area against each other in whole numbers.
func TestPick(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 4))
	for range 60 {
		outer := someHull(random, orb.Point{}, 14)
		polygon := orb.Polygon{outer}
		hole := someHull(random, orb.Point{float64(random.IntN(9) - 4), float64(random.IntN(9) - 4)}, 3)
		if !slices.ContainsFunc(hole, func(p orb.Point) bool {
			for i := 0; i+1 < len(outer); i++ {
				if turn(outer[i], outer[i+1], p) <= 0 {
					return true
				}
			}
			return false
		}) {
			polygon = append(polygon, hole)
		}
		mp := orb.MultiPolygon{polygon}
		onOutline, in := 0, 0
		for _, ring := range polygon {
			for i := 0; i+1 < len(ring); i++ {
				a, b := int(math.Abs(ring[i+1][0]-ring[i][0])), int(math.Abs(ring[i+1][1]-ring[i][1]))
				for b != 0 {
					a, b = b, a%b
				}
				onOutline += a
			}
		}
		for x := -15; x <= 15; x++ {
			for y := -15; y <= 15; y++ {
				if Contains(mp, orb.Point{float64(x), float64(y)}) {
					in++ // a point on the outline counts as in
				}
			}
		}
		// twice the area: 2 (in - on) + on + 2 holes - 2
		if want := 2*(in-onOutline) + onOutline + 2*(len(polygon)-1) - 2; 2*float64(Area(mp)) != float64(want) {
			t.Fatalf("%v: area %v, by places %v/2", mp, Area(mp), want)
		}
	}
}

// TestPlacesAboutConvex: a place is in a convex area if it is right of none of its sides; otherwise
// its distance is that of the nearest place on a side, at its foot or ends. The distance of a line
// is the smallest over its places, in small steps.
func TestPlacesAboutConvex(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 5))
	toSide := func(p, a, b orb.Point) float64 {
		long := math.Hypot(b[0]-a[0], b[1]-a[1])
		along := ((p[0]-a[0])*(b[0]-a[0]) + (p[1]-a[1])*(b[1]-a[1])) / long
		switch {
		case along <= 0:
			return math.Hypot(p[0]-a[0], p[1]-a[1])
		case along >= long:
			return math.Hypot(p[0]-b[0], p[1]-b[1])
		}
		return math.Abs(turn(a, b, p)) / long
	}
	for round := range 120 {
		middle := middles[round%3]
		ring := someHull(random, middle, 20)
		mp := orb.MultiPolygon{{ring}}
		away := func(p orb.Point) float64 {
			in, best := true, math.Inf(1)
			for i := 0; i+1 < len(ring); i++ {
				in, best = in && turn(ring[i], ring[i+1], p) >= 0, min(best, toSide(p, ring[i], ring[i+1]))
			}
			if in {
				return 0
			}
			return best
		}
		place := func() orb.Point {
			return orb.Point{middle[0] + 80*random.Float64() - 40, middle[1] + 80*random.Float64() - 40}
		}
		for range 10 {
			p, q := place(), place()
			want := away(p)
			if got := DistanceToLine(mp, orb.LineString{p}); math.Abs(float64(got)-want) > 1e-7 || Contains(mp, p) != (want == 0) {
				t.Fatalf("%v is %v from %v, in it %v; want %v", p, got, ring, Contains(mp, p), want)
			}
			if want > 0 && (Within(mp, p, geo.Meters(want*0.999999)) || !Within(mp, p, geo.Meters(want*1.000001))) {
				t.Fatalf("%v is %v from %v, and not within it", p, want, ring)
			}
			least := math.Inf(1)
			const steps = 400
			for k := range steps + 1 {
				s := float64(k) / steps
				least = min(least, away(orb.Point{p[0] + s*(q[0]-p[0]), p[1] + s*(q[1]-p[1])}))
			}
			half := math.Hypot(q[0]-p[0], q[1]-p[1]) / steps / 2
			if got := float64(DistanceToLine(mp, orb.LineString{p, q})); got > least+1e-7 || got < least-half-1e-7 {
				t.Fatalf("the line from %v to %v is %v from %v, want %v, %v less at most", p, q, got, ring, least, half)
			}
		}
	}
}

// TestAreaOnAGrid: on a grid of whole steps a convex area keeps its size as far as the grid allows,
// its vertices are whole, and each is at most two steps from its old place.
func TestAreaOnAGrid(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 6))
	for range 60 {
		ring := someHull(random, orb.Point{}, 20)
		turned, cos, sin := make(orb.Ring, len(ring)), math.Cos(1), math.Sin(1)
		for i, p := range ring {
			turned[i] = orb.Point{cos*p[0] - sin*p[1], sin*p[0] + cos*p[1]}
		}
		area := areaOfRing(ring)
		for _, perUnit := range []float64{10, 1000} {
			mp := OnGridOfArea(orb.MultiPolygon{{turned}}, perUnit, area, area)
			if err := Valid(mp); err != nil {
				t.Fatalf("%v: %v", ring, err)
			}
			// moving a vertex by a step changes the area by half the span of its two sides times the
			// step
			if off := math.Abs(float64(Area(mp)) - area); off > 80/perUnit {
				t.Fatalf("%v on %v steps a unit: %v off %v", ring, perUnit, off, area)
			}
			for _, p := range mp[0][0] {
				if x, y := p[0]*perUnit, p[1]*perUnit; math.Abs(x-math.Round(x)) > 1e-6 || math.Abs(y-math.Round(y)) > 1e-6 {
					t.Fatalf("%v is not on the grid of %v steps", p, perUnit)
				}
				near := math.Inf(1)
				for i := 0; i+1 < len(turned); i++ {
					near = min(near, math.Hypot(p[0]-turned[i][0], p[1]-turned[i][1]))
				}
				if near > 2.2/perUnit {
					t.Fatalf("%v lies %v from every vertex of %v", p, near, turned)
				}
			}
		}
	}
}

// TestConvexOverlaps: of a set of convex areas every pair with more common ground than the minimum
// is returned, once, in order, with the common ground; if fewer are asked for, the result says that
// there are more.
func TestConvexOverlaps(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 7))
	for range 60 {
		n := 2 + random.IntN(8)
		rings, areas := someHulls(random, n, 90)
		type pair struct{ first, second int32 }
		want, order := map[pair]float64{}, []pair{}
		const least = 5.0
		for second := range rings {
			for first := range second {
				if shared := areaOfRing(cutBy(rings[first], rings[second])); shared > least {
					k := pair{int32(first), int32(second)}
					want[k], order = shared, append(order, k)
				}
			}
		}
		got, all := Overlaps(areas, least, n*n)
		if !all || len(got) != len(want) {
			t.Fatalf("%d pairs of %v, all %v, want %d", len(got), rings, all, len(want))
		}
		for i, o := range got {
			k := pair{o.First, o.Second}
			if k != order[i] || math.Abs(float64(Area(o.Shared))-want[k]) > 1e-7 {
				t.Fatalf("pair %v of %v has %v in common, want %v with %v", k, rings, Area(o.Shared), order[i], want[k])
			}
		}
		if few, all := Overlaps(areas, least, len(want)/2); len(few) != len(want)/2 || all != (len(want) == 0) {
			t.Fatalf("%d pairs where %d are wanted of %d, all %v", len(few), len(want)/2, len(want), all)
		}
	}
}

// TestConvexClipped: the part of a convex area in a box, by cutting it along the four sides; of two
// separate areas the parts of both. A box around everything keeps all, a box beside it nothing.
func TestConvexClipped(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 8))
	for round := range 150 {
		middle := middles[round%3]
		one, other := someHull(random, middle, 20), someHull(random, orb.Point{middle[0] + 60, middle[1]}, 15)
		mp := orb.MultiPolygon{{one}, {other}}
		x, y := middle[0]+float64(random.IntN(90)-30), middle[1]+float64(random.IntN(50)-25)
		box := orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + 1 + float64(random.IntN(60)), y + 1 + float64(random.IntN(30))}}
		frame := orb.Ring{box.Min, {box.Max[0], box.Min[1]}, box.Max, {box.Min[0], box.Max[1]}, box.Min}
		want := areaOfRing(shifted(cutBy(one, frame), middle)) + areaOfRing(shifted(cutBy(other, frame), middle))
		if got := Area(Clip(mp, box)); math.Abs(float64(got)-want) > 1e-6 {
			t.Fatalf("%v in %v: %v, want %v", mp, box, got, want)
		}
		coverage := NewCoverage([]orb.MultiPolygon{{{one}}, {{other}}})
		sum := geo.SquareMeters(0)
		for i := range int32(2) {
			sum += Area(coverage.Clip(i, box))
		}
		if math.Abs(float64(sum)-want) > 1e-6 {
			t.Fatalf("%v in %v by the coverage: %v, want %v", mp, box, sum, want)
		}
		whole := areaOfRing(shifted(one, middle)) + areaOfRing(shifted(other, middle))
		if got := Area(Clip(mp, mp.Bound().Pad(1))); math.Abs(float64(got)-whole) > 1e-6 {
			t.Fatalf("%v in a box about all: %v, want %v", mp, got, whole)
		}
		if got := Clip(mp, orb.Bound{Min: orb.Point{middle[0], middle[1] + 30}, Max: orb.Point{middle[0] + 9, middle[1] + 40}}); Area(got) != 0 {
			t.Fatalf("%v beside it: %v", mp, got)
		}
	}
}

// TestFirstOfConvex: among overlapping convex areas a place belongs to the first one for which it
// is left of all sides; or to none.
func TestFirstOfConvex(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 9))
	for range 60 {
		rings, areas := make([]orb.Ring, 5), make([]orb.MultiPolygon, 5)
		for i := range rings {
			rings[i] = someHull(random, orb.Point{float64(random.IntN(50)), float64(random.IntN(50))}, 20)
			areas[i] = orb.MultiPolygon{{rings[i]}}
		}
		coverage := NewCoverage(areas)
		for range 50 {
			p := orb.Point{100*random.Float64() - 25, 100*random.Float64() - 25} // not on a side, with near certainty
			want := int32(-1)
			for i, ring := range rings {
				in := true
				for k := 0; k+1 < len(ring); k++ {
					in = in && turn(ring[k], ring[k+1], p) > 0
				}
				if in {
					want = int32(i)
					break
				}
			}
			if got := coverage.First(p); got != want {
				t.Fatalf("%v lies in %d of %v, want %d", p, got, rings, want)
			}
			// a tiny box around it meets no outline and has the same cover
			tiny := orb.Bound{Min: p, Max: p}.Pad(1e-9)
			if across, cover := coverage.Meeting(tiny); len(across) == 0 && cover != want {
				t.Fatalf("%v is covered by %d of %v, want %d", p, cover, rings, want)
			}
		}
	}
}
