package format

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

// TestSortRingsThatTouch: a lake that touches the shore with the vertex it begins
// with is a hole all the same, and a neighbour that touches is none. By hand.
func TestSortRingsThatTouch(t *testing.T) {
	outside := []orb.Point{{0, 0}, {0, 7}, {10, 7}, {10, 0}, {0, 0}} // clockwise
	for _, test := range []struct {
		name string
		ring []orb.Point
		want []int // ends of polygons in rings
	}{
		{"hole at the left edge", []orb.Point{{0, 3}, {2, 2}, {2, 4}, {0, 3}}, []int{2}},
		{"hole at the upper edge", []orb.Point{{3, 7}, {2, 4}, {4, 4}, {3, 7}}, []int{2}},
		{"hole at three edges", []orb.Point{{0, 3}, {5, 0}, {10, 4}, {0, 3}}, []int{2}},
		{"neighbour at the left edge", []orb.Point{{0, 3}, {-2, 4}, {-2, 2}, {0, 3}}, []int{1, 2}},
		{"one vertex", []orb.Point{{1, 1}}, []int{1, 2}},
	} {
		s := Shape{}
		for _, ring := range [][]orb.Point{outside, test.ring} {
			s.Points = append(s.Points, ring...)
			s.EndPart()
		}
		s.SortRings()
		if diff := cmp.Diff(test.want, s.Polygons); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// TestShapeRoom: positions stay what they are while the room for them grows.
func TestShapeRoom(t *testing.T) {
	var s Shape
	for i := range 5000 {
		if i%700 == 0 {
			s.Room(i % 900)
		}
		s.Add(orb.Point{float64(i), 1})
	}
	for i, p := range s.Points {
		if p != (orb.Point{float64(i), 1}) {
			t.Fatalf("position %d is %v", i, p)
		}
	}
	if len(s.Points) != 5000 {
		t.Errorf("%d positions", len(s.Points))
	}
}
