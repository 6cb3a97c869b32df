package shape_test

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/shape"
)

// Two discs of 10 m whose centres are 10 m apart share 122.837 m2: twice the circular
// segment, r2 (2 pi / 3 - sqrt(3) / 2).
func ExampleUnionDiscsArea() {
	discs := []shape.Disc{{Center: orb.Point{0, 0}, Radius: 10}, {Center: orb.Point{10, 0}, Radius: 10}}
	shared := 100 * (2*math.Pi/3 - math.Sqrt(3)/2)
	fmt.Printf("%.3f m2, of which %.3f twice\n", shape.UnionDiscsArea(discs), shared)
	// Output: 505.482 m2, of which 122.837 twice
}

// A closing fills what is narrower than the gap, and leaves what stands alone. Two
// discs of 1 m, 5 m apart, within a gap of 10 m: a rhombus of sides 6 m without two
// sectors of 5 m, and what lies of the discs outside it, 9.785 m2.
func ExampleCloseDiscs() {
	apart := []shape.Disc{{Center: orb.Point{0, 0}, Radius: 1}, {Center: orb.Point{50, 0}, Radius: 1}}
	beside := []shape.Disc{{Center: orb.Point{0, 0}, Radius: 1}, {Center: orb.Point{5, 0}, Radius: 1}}
	fmt.Printf("apart %.2f m2, beside each other %.2f m2\n", shape.CloseDiscs(apart, 10), shape.CloseDiscs(beside, 10))
	// Output: apart 6.28 m2, beside each other 9.78 m2
}

// Of a ring that crosses itself, a figure of eight, both halves are kept.
func ExampleMakeValid() {
	eight := orb.MultiPolygon{{{{0, 0}, {2, 2}, {2, 0}, {0, 2}, {0, 0}}}}
	valid, changed := shape.MakeValid(eight)
	fmt.Println(changed, len(valid), "polygons", shape.Area(valid), "m2")
	// Output: true 2 polygons 2 m2
}

// A line of 100 m, 10 m to either side: a strip and two half discs.
func ExampleBuffer() {
	line := orb.MultiLineString{{{0, 0}, {100, 0}}}
	drawn := shape.Buffer(line, 10, 64)
	fmt.Printf("%.0f m2, true %.0f m2\n", shape.Area(drawn), 2000+100*math.Pi)
	// Output: 2314 m2, true 2314 m2
}
