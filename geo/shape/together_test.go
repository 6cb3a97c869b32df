package shape

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func square(x, y, side float64) orb.Bound {
	return orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + side, y + side}}
}

// TestTogether: classes by hand; touching counts, directly or through others.
func TestTogether(t *testing.T) {
	for _, c := range []struct {
		name  string
		boxes []orb.Bound
		want  string
	}{
		{"none", nil, "[]"},
		{"apart", []orb.Bound{square(0, 0, 1), square(2, 0, 1)}, "[[0] [1]]"},
		{"side by side", []orb.Bound{square(0, 0, 1), square(1, 0, 1)}, "[[0 1]]"},
		{"through the last", []orb.Bound{square(0, 0, 1), square(5, 5, 1), square(2, 0, 1), square(0.5, 0.5, 2)}, "[[0 2 3] [1]]"},
	} {
		if got := fmt.Sprint(Together(c.boxes)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestGather: for separate parts it gives the same as Union, in any order.
func TestGather(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		parts := make([]orb.MultiPolygon, n)
		for i, at := range rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6, 7}).Draw(t, "order")[:n] {
			parts[i] = orb.MultiPolygon{square(float64(3*at), float64(at%3), 2).ToPolygon()}
		}
		want := Union(parts, 1)
		if diff := cmp.Diff(want, Gather(parts)); diff != "" {
			t.Fatal(diff)
		}
	})
}
