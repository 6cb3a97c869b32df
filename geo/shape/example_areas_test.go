package shape_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/shape"
)

// box is a rectangle from one corner to the opposite one.
func box(x, y, toX, toY float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{x, y}, {toX, y}, {toX, toY}, {x, toY}, {x, y}}}}
}

// Two squares of 10 m that share a quarter of each.
func ExampleUnion() {
	a, b := box(0, 0, 10, 10), box(5, 5, 15, 15)
	together := shape.Union([]orb.MultiPolygon{a, b}, 1)
	fmt.Println(len(together), "polygon,", shape.Area(together), "m2")
	// Output: 1 polygon, 175 m2
}

// What one square has in common with another, and what it has alone.
func ExampleIntersection() {
	a, b := box(0, 0, 10, 10), box(5, 5, 15, 15)
	fmt.Println(shape.Area(shape.Intersection(a, b)), "m2 shared,", shape.Area(shape.Difference(a, b)), "m2 alone")
	// Output: 25 m2 shared, 75 m2 alone
}

// Two squares 4 m apart: a closing of 3 m leaves the gap, one of 6 m fills it.
func ExampleClosing() {
	apart := append(box(0, 0, 10, 10), box(14, 0, 24, 10)...)
	fmt.Println(len(shape.Closing(apart, 3)), "polygons,", len(shape.Closing(apart, 6)), "polygon")
	// Output: 2 polygons, 1 polygon
}

// The line passes 5 m to the right of the square.
func ExampleDistanceToLine() {
	fmt.Println(shape.DistanceToLine(box(0, 0, 10, 10), orb.LineString{{15, -100}, {15, 100}}), "m")
	// Output: 5 m
}

// A place to go to within an area, near a place outside it: the middle of the area at that height.
func ExampleInside() {
	at, found := shape.Inside(box(0, 0, 10, 10), orb.Point{12, 3}, 0.1)
	fmt.Println(at, found)
	// Output: [5 3] true
}

// Which of two parcels a place lies in: the first, the second, neither.
func ExampleCoverage() {
	parcels := shape.NewCoverage([]orb.MultiPolygon{box(0, 0, 10, 10), box(10, 0, 20, 10)})
	fmt.Println(parcels.First(orb.Point{3, 3}), parcels.First(orb.Point{13, 3}), parcels.First(orb.Point{23, 3}))
	// Output: 0 1 -1
}
