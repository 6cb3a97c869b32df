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

// TestBuffersByPlaces: for random lines, a random place is in the buffer exactly when some line is
// within its radius, except for chords at the rim.
func TestBuffersByPlaces(t *testing.T) {
	random := rand.New(rand.NewPCG(221, 222))
	for range 25 {
		var lines []orb.LineString
		var radius []geo.Meters
		for range 1 + random.IntN(8) {
			line := orb.LineString{}
			for range 1 + random.IntN(5) {
				line = append(line, orb.Point{100 * random.Float64(), 100 * random.Float64()})
			}
			lines, radius = append(lines, line), append(radius, geo.Meters(2+10*random.Float64()))
		}
		mp := BufferLines(lines, radius, 32, 1)
		if err := Valid(mp); err != nil {
			t.Fatal(err)
		}
		inside := 0
		for range 2000 {
			p := orb.Point{140*random.Float64() - 20, 140*random.Float64() - 20}
			rim := math.Inf(1) // distance from the nearest rim, below 0 inside
			for i, line := range lines {
				d := math.Inf(1)
				for k := range line {
					q := line[min(k+1, len(line)-1)]
					d = min(d, math.Sqrt(pointToSegment(p, line[k], q)))
				}
				rim = min(rim, d-float64(radius[i]))
			}
			if math.Abs(rim) < 0.02 { // the sagitta of 32 chords a quarter, for 12 m
				continue
			}
			in := Contains(mp, p)
			if in != (rim < 0) {
				t.Fatalf("%v is %v m from the rim, in the buffer %v", p, rim, in)
			}
			if in {
				inside++
			}
		}
		if inside == 0 {
			t.Error("none inside: the test tests nothing")
		}
	}
}

// TestBuffersByHand: the area of a buffer from the lengths and turns of the line: 2 r L + pi r^2 if
// it does not return to itself, less r^2 (1 - pi/4) for the inner corner of a right angle.
func TestBuffersByHand(t *testing.T) {
	const r = 3.0
	for _, c := range []struct {
		name string
		line orb.LineString
		want float64
	}{
		{"a place", orb.LineString{{5, 5}}, math.Pi * r * r},
		{"straight", orb.LineString{{0, 0}, {30, 40}}, 2*r*50 + math.Pi*r*r},
		{"straight in three", orb.LineString{{0, 0}, {3, 4}, {3, 4}, {30, 40}}, 2*r*50 + math.Pi*r*r},
		{"there and back", orb.LineString{{0, 0}, {30, 40}, {0, 0}}, 2*r*50 + math.Pi*r*r},
		{"a right angle", orb.LineString{{0, 0}, {40, 0}, {40, 40}}, 2*r*80 + math.Pi*r*r - r*r*(1-math.Pi/4)},
		{"a right angle to the other side", orb.LineString{{0, 0}, {40, 0}, {40, -40}}, 2*r*80 + math.Pi*r*r - r*r*(1-math.Pi/4)},
		{"a zigzag", orb.LineString{{0, 0}, {40, 0}, {40, 40}, {80, 40}}, 2*r*120 + math.Pi*r*r - 2*r*r*(1-math.Pi/4)},
		// closed: no caps; each of four corners subtracts r^2 (1 - pi/4), the hole is sharp
		{"a square frame", orb.LineString{{0, 0}, {40, 0}, {40, 40}, {0, 40}, {0, 0}}, 2*r*160 - 4*r*r*(1-math.Pi/4)},
		// two crossing strips: 6 by 6 counted once
		{"a cross", orb.LineString{{-40, 0}, {40, 0}, {0, 0}, {0, 40}, {0, -40}}, 2*(2*r*80+math.Pi*r*r) - 4*r*r},
	} {
		got := BufferLines([]orb.LineString{c.line}, []geo.Meters{r}, 256, 1)
		within(t, c.name, Area(got), c.want, 2e-5)
		fine := DrawLines([]orb.LineString{c.line}, []geo.Meters{r}, 1e-5, 1)
		within(t, c.name+", drawn by sagitta", Area(fine), c.want, 2e-5)
		library := libraryBuffer(orb.MultiLineString{c.line}, r, 256)
		if c.name != "there and back" && c.name != "a place" { // the library is compared only on lines that go somewhere
			within(t, c.name+", by the library", Area(library), c.want, 2e-4)
		}
		back := slices.Clone(c.line)
		slices.Reverse(back)
		within(t, c.name+", drawn the other way", Area(BufferLines([]orb.LineString{back}, []geo.Meters{r}, 256, 1)), float64(Area(got)), 1e-9)
	}
}

// TestBuffersInParts: the buffer of lines is the union of the buffers of each line, and of the
// segments of each: it does not depend on how lines are divided.
func TestBuffersInParts(t *testing.T) {
	random := rand.New(rand.NewPCG(231, 232))
	for range 20 {
		var lines, segments []orb.LineString
		var radius, radii []geo.Meters
		var parts []orb.MultiPolygon
		for range 1 + random.IntN(4) {
			r := geo.Meters(1 + 5*random.Float64())
			line := orb.LineString{}
			for range 2 + random.IntN(4) {
				line = append(line, orb.Point{60 * random.Float64(), 60 * random.Float64()})
			}
			lines, radius = append(lines, line), append(radius, r)
			parts = append(parts, BufferLines([]orb.LineString{line}, []geo.Meters{r}, 64, 1))
			for k := 0; k+1 < len(line); k++ {
				segments, radii = append(segments, line[k:k+2]), append(radii, r)
			}
		}
		whole := Area(BufferLines(lines, radius, 64, 1))
		within(t, "union of the parts", Area(Union(parts, 1)), float64(whole), 1e-4)
		within(t, "segment by segment", Area(BufferLines(segments, radii, 64, 1)), float64(whole), 1e-9)
		within(t, "four workers", Area(BufferLines(lines, radius, 64, 4)), float64(whole), 0)
	}
}

// TestJoinsAndUnions: areas joined two by two or all at once, in any order and grouping, give one
// area, which contains each of them and nothing else.
func TestJoinsAndUnions(t *testing.T) {
	random := rand.New(rand.NewPCG(241, 242))
	for range 25 {
		var areas []orb.MultiPolygon
		sum := 0.0
		for range 2 + random.IntN(6) {
			area := starAt(random, orb.Point{40 * random.Float64(), 40 * random.Float64()}, 5+20*random.Float64())
			if len(area) == 0 {
				continue
			}
			areas, sum = append(areas, area), sum+float64(Area(area))
		}
		whole := Union(areas, 1)
		want := float64(Area(whole))
		var one orb.MultiPolygon
		for _, a := range areas {
			one = Join(one, a)
		}
		about(t, "one after the other", float64(Area(one)), want, 1e-6)
		slices.Reverse(areas)
		about(t, "from the last", float64(Area(Union(areas, 2))), want, 1e-7)
		for i, a := range areas {
			about(t, fmt.Sprint("holds area ", i), float64(IntersectionArea(whole, a)), float64(Area(a)), 1e-6)
			about(t, "joined with itself", float64(Area(Join(a, a))), float64(Area(a)), 1e-7)
			about(t, "less all", float64(Area(Difference(a, whole))), 0, 1e-6)
		}
		if want > sum+1e-9 {
			t.Errorf("all together %v, each by itself %v", want, sum)
		}
		if err := Valid(one); err != nil {
			t.Fatal(err)
		}
	}
	if got := Union(nil, 3); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
	square := squareAt(0, 0, 4)
	if got := Join(nil, square); !orb.Equal(got, square) {
		t.Errorf("with nothing: %v", got)
	}
	if got := Join(square, squareAt(4, 0, 4)); Area(got) != 32 || len(got) != 1 {
		t.Errorf("side by side: %v", got)
	}
	if got := Join(square, squareAt(9, 0, 4)); Area(got) != 32 || len(got) != 2 {
		t.Errorf("apart: %v", got)
	}
}

// TestClosingsByHand: ground that a ball of 3 m cannot enter is filled, by hand: between walls, in
// a slot, in a corner, and a room with a door too narrow for the ball.
func TestClosingsByHand(t *testing.T) {
	slot := orb.MultiPolygon{{{{0, 0}, {30, 0}, {30, 20}, {17, 20}, {17, 5}, {13, 5}, {13, 20}, {0, 20}, {0, 0}}}} // 4 by 15
	// at the mouth of the slot the ball touches both edges: the cap above its lowest place stays
	// open
	mouth := func(r, half float64) float64 { return r*r*math.Asin(half/r) - half*math.Sqrt(r*r-half*half) }
	within(t, "a slot narrower than the ball", Area(Closing(slot, 6)), 600-mouth(3, 2), 1e-4)
	// a ball of 1.5 m enters; in the two corners at the bottom it leaves r^2 (1 - pi/4) each
	within(t, "a slot wider than the ball", Area(Closing(slot, 3)), 540+2*1.5*1.5*(1-math.Pi/4), 1e-4)
	room := orb.MultiPolygon{{rectangle(0, 0, 30, 30)[0][0], orb.Ring{{10, 10}, {10, 20}, {20, 20}, {20, 10}, {10, 10}}}}
	within(t, "a room that the ball fits into", Area(Closing(room, 6)), 800+4*9*(1-math.Pi/4), 1e-4)
	within(t, "a room that it does not", Area(Closing(room, 10.001)), 900, 1e-3)
	within(t, "convex", Area(Closing(rectangle(3, 3, 9, 2), 50)), 18, 1e-4)
	// a closing contains the original, and closing again adds nothing
	random := rand.New(rand.NewPCG(251, 252))
	for range 10 {
		mp := Union([]orb.MultiPolygon{starAt(random, orb.Point{0, 0}, 30), starAt(random, orb.Point{20, 5}, 25), squareAt(-25, -20, 8)}, 1)
		once := Closing(mp, 4)
		within(t, "holds it", IntersectionArea(once, mp), float64(Area(mp)), 1e-3)
		within(t, "twice", Area(Closing(once, 4)), float64(Area(once)), 2e-3)
	}
}

// TestPatchesBesideDiscs: what a drawn patch adds to the closing of discs, compared with the
// polygon library with fine chords.
func TestPatchesBesideDiscs(t *testing.T) {
	random := rand.New(rand.NewPCG(261, 262))
	for range 12 {
		var discs []Disc
		for range 1 + random.IntN(8) {
			discs = append(discs, Disc{orb.Point{50 * random.Float64(), 50 * random.Float64()}, geo.Meters(3 + 5*random.Float64())})
		}
		drawn := starAt(random, orb.Point{50 * random.Float64(), 50 * random.Float64()}, 10+20*random.Float64())
		for _, gap := range []geo.Meters{2, 8} {
			got := CloseBeside(discs, drawn, gap)
			var all []orb.MultiPolygon
			for _, d := range discs {
				all = append(all, orb.MultiPolygon{d.Polygon()})
			}
			alone := Area(closingOf(Union(all, 1), gap, 64))
			with := Area(closingOf(Union(append(all, drawn), 1), gap, 64))
			about(t, fmt.Sprint("gap ", gap), float64(got), float64(with-alone), 0.02+2e-3*float64(with))
		}
	}
}
