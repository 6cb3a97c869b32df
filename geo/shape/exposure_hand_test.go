package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// grownBy returns discs with one moved and enlarged.
func grownBy(discs []Disc, i int, dr, dx, dy float64) []Disc {
	out := slices.Clone(discs)
	out[i].Radius += geo.Meters(dr)
	out[i].Center[0] += dx
	out[i].Center[1] += dy
	return out
}

// TestExposuresByDifferences: the effect of growing and moving a disc on the union and the closing,
// compared with differences of the areas over a tenth of a millimetre in both directions.
func TestExposuresByDifferences(t *testing.T) {
	random := rand.New(rand.NewPCG(131, 132))
	const d = 1e-4
	for range 25 {
		var discs []Disc
		for range 2 + random.IntN(7) {
			discs = append(discs, Disc{orb.Point{30 * random.Float64(), 30 * random.Float64()}, geo.Meters(2 + 6*random.Float64())})
		}
		for _, gap := range []geo.Meters{0, 5} {
			area := func(discs []Disc) float64 { return float64(CloseDiscs(discs, gap)) }
			for i, e := range NewDiscs(discs).Exposures(gap) {
				r := float64(discs[i].Radius)
				byRadius := (area(grownBy(discs, i, d, 0, 0)) - area(grownBy(discs, i, -d, 0, 0))) / (2 * d)
				byX := (area(grownBy(discs, i, 0, d, 0)) - area(grownBy(discs, i, 0, -d, 0))) / (2 * d)
				byY := (area(grownBy(discs, i, 0, 0, d)) - area(grownBy(discs, i, 0, 0, -d))) / (2 * d)
				// a relative change in area is half as large in the radius
				about(t, fmt.Sprint("swell, gap ", gap), float64(e.Swell), byRadius*r/2, 0.02*r)
				about(t, fmt.Sprint("move in x, gap ", gap), e.Move[0], byX, 0.02*r)
				about(t, fmt.Sprint("move in y, gap ", gap), e.Move[1], byY, 0.02*r)
			}
		}
	}
}

// TestExposuresAddUp: when all discs move together the area does not change, so their derivatives
// add up to 0; scaled about the origin, the area grows by twice its size.
func TestExposuresAddUp(t *testing.T) {
	random := rand.New(rand.NewPCG(141, 142))
	for range 60 {
		var discs []Disc
		for range 1 + random.IntN(12) {
			discs = append(discs, Disc{orb.Point{40*random.Float64() - 20, 40*random.Float64() - 20}, geo.Meters(1 + 7*random.Float64())})
		}
		var x, y, scale float64
		for i, e := range NewDiscs(discs).Exposures(0) {
			x, y = x+e.Move[0], y+e.Move[1]
			// scaling by s changes the radius and the position by s of themselves
			scale += 2*float64(e.Swell) + e.Move[0]*discs[i].Center[0] + e.Move[1]*discs[i].Center[1]
		}
		about(t, "all moved in x", x, 0, 1e-6)
		about(t, "all moved in y", y, 0, 1e-6)
		about(t, "all scaled", scale, 2*float64(UnionDiscsArea(discs)), 1e-6)
		x, y = 0, 0
		for _, e := range NewDiscs(discs).Exposures(4) {
			x, y = x+e.Move[0], y+e.Move[1]
		}
		about(t, "all moved in x, closed", x, 0, 1e-6)
		about(t, "all moved in y, closed", y, 0, 1e-6)
	}
}

// TestExposuresOfAreasByHand: two squares of 10 m that share a strip of 2 m. By hand: the left one
// gains by growing along its three free sides and the uncovered rest of the fourth.
func TestExposuresOfAreasByHand(t *testing.T) {
	e := ExposuresOf([]orb.MultiPolygon{squareAt(0, 0, 10), rectangle(8, 2, 10, 6)})
	// The left square's right side is covered from 2 to 8. Growth: half the integral of the distance
	// from the middle, 5 m, over the exposed sides: 3 of 10 m and 4 m: 34 m.
	about(t, "swell of the left", float64(e[0].Swell), 34*5/2.0, 1)
	about(t, "move of the left", e[0].Move[0], 4-10, 0.2) // 4 m exposed on the right, 10 m on the left
	about(t, "move of the left in y", e[0].Move[1], 0, 0.2)
	// the right one, 10 by 6 around (13, 5): its left side and 2 m of two others are covered:
	// exposed are 5 m in x over 6 m, and 3 m over 8 m twice
	about(t, "swell of the right", float64(e[1].Swell), (5*6+3*8*2)/2.0, 1)
	about(t, "move of the right", e[1].Move[0], 6, 0.2)
	inside := ExposuresOf([]orb.MultiPolygon{squareAt(0, 0, 10), squareAt(3, 3, 2)})
	if inside[1] != (Exposure{}) {
		t.Errorf("what lies inside: %+v", inside[1])
	}
	holed := orb.MultiPolygon{{squareAt(0, 0, 10)[0][0], {{2, 2}, {2, 8}, {8, 8}, {8, 2}, {2, 2}}}}
	alone := ExposuresOf([]orb.MultiPolygon{holed})[0]
	about(t, "a square with a hole", float64(alone.Swell), 100-36, 1e-9) // all of it is exposed: its own area
	about(t, "it moves nowhere", math.Hypot(alone.Move[0], alone.Move[1]), 0, 1e-9)
}

// TestGapsAndOverlapsOfTiles: random tiles on a grid, some left out, in every other set some twice
// as wide: gaps are the enclosed empty places, overlaps the places covered twice; by counting
// squares.
func TestGapsAndOverlapsOfTiles(t *testing.T) {
	random := rand.New(rand.NewPCG(151, 152))
	const n = 6
	for round := range 40 {
		var held [n][n]int
		var areas []orb.MultiPolygon
		for x := range n {
			for y := range n {
				edge := x == 0 || y == 0 || x == n-1 || y == n-1
				if !edge && random.IntN(4) == 0 {
					continue
				}
				wide := 1
				if round%2 == 1 && !edge && x < n-2 && random.IntN(5) == 0 {
					wide = 2
				}
				areas = append(areas, rectangle(float64(x), float64(y), float64(wide), 1))
				for k := range wide {
					held[x+k][y]++
				}
			}
		}
		var empty, twice float64
		for x := range n {
			for y := range n {
				if held[x][y] == 0 {
					empty++
				}
				twice += float64(max(held[x][y]-1, 0))
			}
		}
		random.Shuffle(len(areas), func(i, j int) { areas[i], areas[j] = areas[j], areas[i] })
		got := 0.0
		for _, g := range Gaps(areas) {
			got += float64(geo.PolygonArea(orb.MultiPolygon{g.Ground}))
		}
		about(t, "gaps", got, empty, 1e-9)
		shared, all := Overlaps(areas, 1e-9, 1000)
		got = 0
		for i, o := range shared {
			got += float64(Area(o.Shared))
			if o.First >= o.Second || i > 0 && (shared[i-1].Second > o.Second || shared[i-1].Second == o.Second && shared[i-1].First >= o.First) {
				t.Errorf("order of overlaps: %v", shared)
			}
		}
		if !all {
			t.Error("not all")
		}
		about(t, "overlaps", got, twice, 1e-9)
		about(t, "union", float64(Area(Union(areas, 1))), n*n-empty, 1e-9)
		if few, whole := Overlaps(areas, 1e-9, 1); len(shared) > 1 && (whole || len(few) != 1) {
			t.Errorf("%d of at most 1, all %v", len(few), whole)
		}
		m := NewCoverage(areas)
		for x := range n {
			for y := range n {
				first := m.First(orb.Point{float64(x) + 0.5, float64(y) + 0.5})
				if (first >= 0) != (held[x][y] > 0) {
					t.Errorf("square %d, %d: %d, held %d times", x, y, first, held[x][y])
				}
			}
		}
	}
}

// TestEvenOddOfWalks: for closed walks on a grid, the places run around an odd number of times, by
// counting crossings from the middle of every square.
func TestEvenOddOfWalks(t *testing.T) {
	random := rand.New(rand.NewPCG(161, 162))
	for range 80 {
		ring := orb.Ring{{0, 0}}
		for range 10 + random.IntN(20) {
			last := ring[len(ring)-1]
			next := last
			step := float64(random.IntN(7) - 3)
			next[random.IntN(2)] += step
			if next[0] < -8 || next[0] > 8 || next[1] < -8 || next[1] > 8 || next == last {
				continue
			}
			ring = append(ring, next)
		}
		last := ring[len(ring)-1]
		ring = append(ring, orb.Point{last[0], 0}, orb.Point{0, 0})
		odd := 0.0
		for x := -8.5; x < 9; x++ {
			for y := -8.5; y < 9; y++ {
				in := false
				for i := 1; i < len(ring); i++ {
					a, b := ring[i-1], ring[i]
					if (a[1] > y) != (b[1] > y) && a[0] > x { // vertical: it runs along x
						in = !in
					}
				}
				if in {
					odd++
				}
			}
		}
		got, _ := MakeValid(orb.MultiPolygon{{ring}})
		about(t, "area run around an odd number of times", float64(Area(got)), odd, 1e-9)
		if err := Valid(got); err != nil {
			t.Fatalf("%v: %v", ring, err)
		}
	}
}

// TestDistanceOfAreasBySteps: from an area to a line, compared with places along both.
func TestDistanceOfAreasBySteps(t *testing.T) {
	random := rand.New(rand.NewPCG(171, 172))
	along := func(a, b orb.Point, n int, do func(orb.Point)) {
		for i := range n + 1 {
			s := float64(i) / float64(n)
			do(orb.Point{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])})
		}
	}
	for range 60 {
		area := append(squareAt(20*random.Float64(), 20*random.Float64(), 1+9*random.Float64()), rectangle(40*random.Float64(), 10, 3, 8)...)
		line := orb.LineString{{60*random.Float64() - 10, 60*random.Float64() - 20}}
		for range 1 + random.IntN(4) {
			line = append(line, orb.Point{60*random.Float64() - 10, 60*random.Float64() - 20})
		}
		least := math.Inf(1)
		for i := 1; i < len(line); i++ {
			along(line[i-1], line[i], 400, func(p orb.Point) {
				if Contains(area, p) {
					least = 0
				}
				for _, polygon := range area {
					for k := 1; k < len(polygon[0]); k++ {
						least = min(least, math.Sqrt(pointToSegment(p, polygon[0][k-1], polygon[0][k])))
					}
				}
			})
		}
		got := float64(DistanceToLine(area, line))
		if got > least+1e-9 || got < least-0.2 {
			t.Fatalf("%v and %v: %v, by steps %v", area, line, got, least)
		}
		at := line[0]
		off := float64(DistanceToLine(area, line[:1]))
		for _, d := range []float64{off * 0.999, off * 1.001, 0} {
			if got := Within(area, at, geo.Meters(d)); got != (off <= d) {
				t.Fatalf("%v is %v from the area: within %v is %v", at, off, d, got)
			}
		}
		if Within(area, at, -1) {
			t.Error("within less than nothing")
		}
	}
}

// TestEachShownByHand: the middles of the pieces of a ring, and their outward normals: a ring of 0.5 by
// 0.25 in one piece a side, from either side of the ground, and its long sides in four where they are
// 2 long.
func TestEachShownByHand(t *testing.T) {
	none := NewCoverage(nil)
	for _, c := range []struct {
		long     float64
		exterior bool
		want     []orb.Point // middles and normals in turn
	}{
		{0.5, true, []orb.Point{{0.25, 0}, {0, -0.5}, {0.5, 0.125}, {0.25, 0}, {0.25, 0.25}, {0, 0.5}, {0, 0.125}, {-0.25, 0}}},
		{0.5, false, []orb.Point{{0.25, 0}, {0, 0.5}, {0.5, 0.125}, {-0.25, 0}, {0.25, 0.25}, {0, -0.5}, {0, 0.125}, {0.25, 0}}},
		{2, true, []orb.Point{{0.25, 0}, {0, -0.5}, {0.75, 0}, {0, -0.5}, {1.25, 0}, {0, -0.5}, {1.75, 0}, {0, -0.5}, {2, 0.125}, {0.25, 0},
			{1.75, 0.25}, {0, 0.5}, {1.25, 0.25}, {0, 0.5}, {0.75, 0.25}, {0, 0.5}, {0.25, 0.25}, {0, 0.5}, {0, 0.125}, {-0.25, 0}}},
	} {
		var got []orb.Point
		ring := orb.Ring{{0, 0}, {c.long, 0}, {c.long, 0.25}, {0, 0.25}, {0, 0}}
		eachShown(ring, c.exterior, none, func(at, outward orb.Point) { got = append(got, at, outward) })
		if !slices.Equal(got, c.want) {
			t.Errorf("%v long, outside %v: %v, want %v", c.long, c.exterior, got, c.want)
		}
	}
}
