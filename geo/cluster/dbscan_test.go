package cluster

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// run clusters the points, and fails the test on an error.
func run(t interface{ Fatal(...any) }, coords []float64, dim int, o Options) Result {
	r, err := DBSCAN(coords, dim, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Labels derived by hand for points on a number line.
func TestDBSCANByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		coords []float64
		o      Options
		label  []int32
	}{
		{"no points", nil, Options{Eps: 1, MinPoints: 3}, []int32{}},
		{"one point alone", []float64{5}, Options{Eps: 1, MinPoints: 2}, []int32{-1}},
		{"one point counts itself", []float64{5}, Options{Eps: 1, MinPoints: 1}, []int32{0}},
		{"exactly eps apart is near", []float64{0, 1, 2}, Options{Eps: 1, MinPoints: 3}, []int32{0, 0, 0}},
		{"just over eps is not", []float64{0, 1.0000001}, Options{Eps: 1, MinPoints: 2}, []int32{-1, -1}},
		{"numbered by the smallest index", []float64{9, 0, 9, 0}, Options{Eps: 1, MinPoints: 2}, []int32{0, 1, 0, 1}},
		{"identical positions", []float64{3, 3, 3, 8}, Options{Eps: 1, MinPoints: 3}, []int32{0, 0, 0, -1}},
		// Of 0,1,2 and 4,5,6 only 1 and 5 are cores; 3 is 2 from both, so no core is within reach.
		{"between two clusters, out of reach", []float64{0, 1, 2, 4.5, 5.5, 6.5, 3.25}, Options{Eps: 1, MinPoints: 3}, []int32{0, 0, 0, 1, 1, 1, -1}},
		// The cores are 1 and 3; 2 has only these two within 1, and needs 4 to be a core.
		{"border tie goes to the smaller index", []float64{3, 1, 2, 3.5, 3.5, .5, .5}, Options{Eps: 1, MinPoints: 4}, []int32{0, 1, 0, 0, 0, 1, 1}},
		{"border goes to the nearer core", []float64{3.1, 1, 2.06, 3.5, 3.5, .5, .5}, Options{Eps: 1.06, MinPoints: 4}, []int32{0, 1, 0, 0, 0, 1, 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if d := cmp.Diff(c.label, run(t, c.coords, 1, c.o).Label); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestDBSCANRefuses(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		name   string
		coords []float64
		dim    int
		o      Options
	}{
		{"eps of nothing", []float64{1}, 1, Options{Eps: 0, MinPoints: 1}},
		{"eps not a number", []float64{1}, 1, Options{Eps: inf - inf, MinPoints: 1}},
		{"eps without end", []float64{1}, 1, Options{Eps: inf, MinPoints: 1}},
		{"no min points", []float64{1}, 1, Options{Eps: 1}},
		{"no dimension", []float64{1}, 0, Options{Eps: 1, MinPoints: 1}},
		{"half a point", []float64{1, 2, 3}, 2, Options{Eps: 1, MinPoints: 1}},
		{"coordinate not a number", []float64{1, inf - inf}, 1, Options{Eps: 1, MinPoints: 1}},
		{"coordinate without end", []float64{1, inf}, 1, Options{Eps: 1, MinPoints: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := DBSCAN(c.coords, c.dim, c.o); err == nil {
				t.Error("no error")
			}
		})
	}
}

// bruteForce applies the definition of DBSCAN to every pair of points.
func bruteForce(coords []float64, dim int, o Options) Result {
	n := len(coords) / dim
	d2 := func(i, j int) (sum float64) {
		for k := range dim {
			d := coords[i*dim+k] - coords[j*dim+k]
			sum += float64(d * d)
		}
		return sum
	}
	r := Result{Label: make([]int32, n), Core: make([]bool, n)}
	for i := range n {
		count := 0
		for j := range n {
			if d2(i, j) <= o.Eps*o.Eps {
				count++
			}
		}
		r.Core[i], r.Label[i] = count >= o.MinPoints, -1
	}
	group := make([]int, n)
	for i := range group {
		group[i] = -1
	}
	groups := 0
	for i := range n {
		if !r.Core[i] || group[i] >= 0 {
			continue
		}
		todo := []int{i}
		for group[i] = groups; len(todo) > 0; {
			at := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for j := range n {
				if r.Core[j] && group[j] < 0 && d2(at, j) <= o.Eps*o.Eps {
					group[j] = groups
					todo = append(todo, j)
				}
			}
		}
		groups++
	}
	for i := range n {
		best := -1
		for j := range n {
			if !r.Core[i] && r.Core[j] && d2(i, j) <= o.Eps*o.Eps && (best < 0 || d2(i, j) < d2(i, best)) {
				best = j
			}
		}
		if best >= 0 {
			group[i] = group[best]
		}
	}
	number := map[int]int32{}
	for i, g := range group {
		if g < 0 {
			continue
		}
		if _, ok := number[g]; !ok {
			number[g] = int32(len(number))
		}
		r.Label[i] = number[g]
	}
	r.Clusters = len(number)
	return r
}

// drawPoints draws points on a coarse grid, so that equal distances and positions are common, or
// off any grid.
func drawPoints(t *rapid.T, dim int) []float64 {
	n := rapid.IntRange(0, 150).Draw(t, "points")
	grid := rapid.Bool().Draw(t, "grid")
	extent := rapid.IntRange(1, 12).Draw(t, "extent")
	coords := make([]float64, n*dim)
	for i := range coords {
		if grid {
			coords[i] = float64(rapid.IntRange(0, extent).Draw(t, "c"))
		} else {
			coords[i] = rapid.Float64Range(0, float64(extent)).Draw(t, "c")
		}
	}
	return coords
}

func drawOptions(t *rapid.T) Options {
	return Options{
		Eps:       rapid.SampledFrom([]float64{0.3, 1, 1.5, 2, 20}).Draw(t, "eps"),
		MinPoints: rapid.IntRange(1, 6).Draw(t, "min points"),
		Workers:   rapid.IntRange(0, 8).Draw(t, "workers"),
	}
}

func TestDBSCANIsTheDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dim := rapid.IntRange(1, 4).Draw(t, "dim")
		coords, o := drawPoints(t, dim), drawOptions(t)
		if d := cmp.Diff(bruteForce(coords, dim, o), run(t, coords, dim, o)); d != "" {
			t.Fatal(d)
		}
	})
}

// In any order of the points the core points and the noise are the same. So are the clusters,
// except for border points with equally near cores.
func TestDBSCANOfPermutedPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coords, o := drawPoints(t, 2), drawOptions(t)
		order := make([]int, len(coords)/2)
		for i := range order {
			order[i] = i
		}
		order = rapid.Permutation(order).Draw(t, "order")
		moved := make([]float64, len(coords))
		for to, from := range order {
			copy(moved[2*to:2*to+2], coords[2*from:2*from+2])
		}
		a, b := run(t, coords, 2, o), run(t, moved, 2, o)
		same := map[int32]int32{}
		for to, from := range order {
			if a.Core[from] != b.Core[to] || (a.Label[from] < 0) != (b.Label[to] < 0) {
				t.Fatalf("point %d changed its part", from)
			}
			if !a.Core[from] {
				continue
			}
			if l, seen := same[a.Label[from]]; seen && l != b.Label[to] {
				t.Fatalf("point %d changed its cluster", from)
			}
			same[a.Label[from]] = b.Label[to]
		}
		if a.Clusters != b.Clusters {
			t.Fatalf("%d and %d clusters", a.Clusters, b.Clusters)
		}
	})
}

// A pile of equal points must be one cluster. The benchmark below shows that its time is not
// quadratic.
func TestDBSCANOfAPile(t *testing.T) {
	coords := make([]float64, 3*50_000)
	r := run(t, coords, 3, Options{Eps: 30, MinPoints: 3, Workers: 2})
	if r.Clusters != 1 || r.Label[0] != 0 || r.Label[49_999] != 0 {
		t.Errorf("%d clusters", r.Clusters)
	}
}
