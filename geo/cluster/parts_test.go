package cluster

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/geo/disjoint"
)

// scattered returns n random points in a box of the given dimension and side, always the same ones.
func scattered(n, dim int, side float64) []float64 {
	random := rand.New(rand.NewPCG(uint64(n), uint64(dim)))
	coords := make([]float64, n*dim)
	for i := range coords {
		coords[i] = side * random.Float64()
	}
	return coords
}

// every calls visit with each part of the tree, from the root downwards.
func (t *tree) every(part span, visit func(span)) {
	visit(part)
	if t.leaf(part) {
		return
	}
	left, right := t.children(part)
	t.every(left, visit)
	t.every(right, visit)
}

// TestTree: the tree halves the caller's points repeatedly and keeps each point once, with its own
// coordinates. Boxes fit their points exactly. Along the axis of a split no point on the left is
// beyond a point on the right. Leaves have at most 8 points and, except after the last split, more
// than half as many.
func TestTree(t *testing.T) {
	for _, n := range []int{1, 7, 8, 9, 16, 17, 100, 1000} {
		for dim := 1; dim <= 4; dim++ {
			for _, workers := range []int{1, 3, 8} {
				coords := scattered(n, dim, 50)
				tree := buildTree(coords, dim, workers)
				seen := slices.Sorted(slices.Values(tree.index))
				for i, place := range seen {
					if place != int32(i) {
						t.Fatalf("%d points: place %d is held by %d", n, i, place)
					}
				}
				for i := range n {
					from := int(tree.index[i]) * dim
					if !slices.Equal(tree.at(i), coords[from:from+dim]) {
						t.Fatalf("point %d of %d has the coordinates of another", i, n)
					}
				}
				tree.every(tree.root(), func(part span) { checkPart(t, tree, part) })
			}
		}
	}
}

func checkPart(t *testing.T, tree *tree, part span) {
	t.Helper()
	least, most := tree.bounds(part.node)
	for k := range tree.dim {
		low, high := math.Inf(1), math.Inf(-1)
		for i := part.lo; i < part.hi; i++ {
			low, high = min(low, tree.at(i)[k]), max(high, tree.at(i)[k])
		}
		if low != least[k] || high != most[k] {
			t.Fatalf("node %d: axis %d from %v to %v, the box says %v to %v", part.node, k, low, high, least[k], most[k])
		}
	}
	if tree.leaf(part) {
		if n := part.hi - part.lo; n > leafSize || n < 1 || len(tree.index) > leafSize && n < leafSize/2 {
			t.Fatalf("a leaf of %d points", n)
		}
		return
	}
	left, right := tree.children(part)
	if left.lo != part.lo || left.hi != right.lo || right.hi != part.hi {
		t.Fatalf("node %d: %v and %v of %v", part.node, left, right, part)
	}
	if a, b := left.hi-left.lo, right.hi-right.lo; a > b || b > a+1 {
		t.Fatalf("node %d: %d to the left, %d to the right", part.node, a, b)
	}
	longest := 0
	for k := range least {
		if most[k]-least[k] > most[longest]-least[longest] {
			longest = k
		}
	}
	for i := left.lo; i < left.hi; i++ {
		for j := right.lo; j < right.hi; j++ {
			if tree.at(i)[longest] > tree.at(j)[longest] {
				t.Fatalf("node %d: %v lies left of %v", part.node, tree.at(i), tree.at(j))
			}
		}
	}
}

// TestDistances: by hand, from squares of 3-4-5 and 1-2-2-3 triangles. The boxes of tree nodes 1
// and 2 are set to (0,0)-(10,20) and (13,24)-(15,30).
func TestDistances(t *testing.T) {
	tree := &tree{dim: 2, coords: []float64{0, 0, 3, 4, 12, 25, 5, 5}, box: []float64{0, 0, 0, 0, 0, 0, 10, 20, 13, 24, 15, 30}}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"between the first two", tree.between(0, 1), 25},
		{"of a point from itself", tree.between(2, 2), 0},
		{"of box from box, corner to corner", tree.nearest(1, 2), 25},
		{"the same from the other", tree.nearest(2, 1), 25},
		{"of a box from itself", tree.nearest(1, 1), 0},
		{"farthest from corner to corner", tree.farthest(1, 2), 15*15 + 30*30},
		{"farthest, the same from the other", tree.farthest(2, 1), 15*15 + 30*30},
		{"diagonal of a box", tree.farthest(2, 2), 2*2 + 6*6},
		{"of a point in the box", tree.pointNearest(1, 1), 0},
		{"of a point past a corner", tree.pointNearest(2, 1), 2*2 + 5*5},
		{"of a point below a corner", tree.pointNearest(3, 2), 8*8 + 19*19},
		{"farthest of a point in the box", tree.pointFarthest(1, 1), 7*7 + 16*16},
		{"farthest of a point outside", tree.pointFarthest(0, 2), 15*15 + 30*30},
		{"farthest of a point beyond", tree.pointFarthest(2, 1), 12*12 + 25*25},
	} {
		if c.got != c.want {
			t.Errorf("square of the distance %s: %v, want %v", c.name, c.got, c.want)
		}
	}
	space := &tree3
	if got := space.between(0, 1); got != 9 {
		t.Errorf("in space: %v, want 9", got)
	}
}

var tree3 = tree{dim: 3, coords: []float64{10, 10, 10, 11, 12, 8}}

// TestMedianOfThree: the median of the first, middle and last point of a part, on either axis, in
// every order; by hand. The middle of points 1 to 5 is point 3.
func TestMedianOfThree(t *testing.T) {
	for _, order := range [][3]float64{{1, 2, 3}, {1, 3, 2}, {2, 1, 3}, {2, 3, 1}, {3, 1, 2}, {3, 2, 1}} {
		for axis := range 2 {
			coords := []float64{9, 9, 9, 9, -9, -9, 9, 9, -9, -9, 9, 9, -9, -9} // seven points with only two values
			for k, place := range []int{1, 3, 5} {
				coords[2*place+axis], coords[2*place+1-axis] = order[k], 50+order[k]
			}
			tree := &tree{dim: 2, coords: coords}
			if got := tree.medianOfThree(1, 5, axis); got != 2 {
				t.Errorf("of %v on axis %d: %v", order, axis, got)
			}
		}
	}
}

// TestBoundsHoldDistances: no point of a part is nearer than the part's box, and none is farther
// than the box's farthest corner, to the last bit. Pruning relies on this.
func TestBoundsHoldDistances(t *testing.T) {
	for dim := 1; dim <= 4; dim++ {
		tree := buildTree(scattered(120, dim, 3), dim, 1)
		tree.every(tree.root(), func(part span) {
			for i := range 120 {
				least, most := math.Inf(1), 0.0
				for j := part.lo; j < part.hi; j++ {
					least, most = min(least, tree.between(i, j)), max(most, tree.between(i, j))
				}
				if tree.pointNearest(i, part.node) > least || tree.pointFarthest(i, part.node) < most {
					t.Fatalf("point %d, node %d: %v to %v outside of %v to %v", i, part.node, least, most,
						tree.pointNearest(i, part.node), tree.pointFarthest(i, part.node))
				}
			}
		})
	}
}

// TestCount: the number of neighbours in a part, counted only up to the limit asked for.
func TestCount(t *testing.T) {
	const n = 300
	s := search{tree: buildTree(scattered(n, 2, 10), 2, 1), limit: 4}
	for i := range n {
		whole := 0
		for j := range n {
			if s.between(i, j) <= s.limit {
				whole++
			}
		}
		if got := s.count(i, s.root(), n); got != whole {
			t.Fatalf("point %d has %d neighbours, want %d", i, got, whole)
		}
		for _, enough := range []int{1, 3, whole} {
			if got := s.count(i, s.root(), enough); got < enough || got > whole {
				t.Fatalf("point %d: %d of %d neighbours where %d are enough", i, got, whole, enough)
			}
		}
	}
}

// TestUnits: the parts treated as units hold every point once. A clump is no wider than Eps, and
// the part above it is wider. near returns all other units within Eps.
func TestUnits(t *testing.T) {
	const n = 400
	s := search{tree: buildTree(scattered(n, 2, 20), 2, 1), limit: 9}
	s.findUnits()
	held := 0
	clumps := 0
	for _, u := range s.units {
		held += u.hi - u.lo
		wide := 0.0
		for i := u.lo; i < u.hi; i++ {
			for j := u.lo; j < u.hi; j++ {
				wide = max(wide, s.between(i, j))
			}
		}
		if u.clump {
			clumps++
			if wide > s.limit {
				t.Errorf("a clump %v wide", math.Sqrt(wide))
			}
		} else if !s.leaf(u.span) {
			t.Errorf("%v is neither clump nor leaf", u)
		}
		var want, got []span
		for _, v := range s.units {
			if v.node != u.node && s.nearest(u.node, v.node) <= s.limit {
				want = append(want, v.span)
			}
		}
		for _, v := range s.near(u, s.root(), nil) {
			got = append(got, v.span)
		}
		if !slices.Equal(got, want) {
			t.Fatalf("near %v are %v, want %v", u, got, want)
		}
	}
	if held != n || clumps < 10 {
		t.Errorf("%d points in units, %d clumps", held, clumps)
	}
}

// TestLine: on a number line clusters are runs. The points within Eps of a point lie between two
// indexes of the sorted values, which gives the cores; neighbouring cores are in one cluster if
// they are at most Eps apart. This check uses neither the tree nor all pairs, so it can use more
// points.
func TestLine(t *testing.T) {
	const n, eps, need = 5000, 1.5, 4
	coords := scattered(n, 1, 3000)
	slices.Sort(coords)
	want := Result{Label: make([]int32, n), Core: make([]bool, n)}
	for i, lo, hi := 0, 0, 0; i < n; i++ {
		for coords[i]-coords[lo] > eps {
			lo++
		}
		for hi < n && coords[hi]-coords[i] <= eps {
			hi++
		}
		want.Core[i] = hi-lo >= need
	}
	before, run1 := -1, int32(-1) // the previous core and its cluster
	of := make([]int32, n)
	for i := range n {
		if !want.Core[i] {
			continue
		}
		if before < 0 || coords[i]-coords[before] > eps {
			run1++
		}
		before, of[i] = i, run1
	}
	for i := range n {
		want.Label[i] = -1
		if want.Core[i] {
			want.Label[i] = of[i]
			continue
		}
		best := eps
		for _, step := range []int{-1, 1} { // the nearest core to the left wins a tie
			for j := i + step; j >= 0 && j < n && math.Abs(coords[j]-coords[i]) <= eps; j += step {
				if want.Core[j] {
					if d := math.Abs(coords[j] - coords[i]); d < best || want.Label[i] < 0 {
						best, want.Label[i] = d, of[j]
					}
					break
				}
			}
		}
	}
	want.Clusters = int(run1) + 1
	for _, workers := range []int{1, 4} {
		got := run(t, coords, 1, Options{Eps: eps, MinPoints: need, Workers: workers})
		if d := cmp.Diff(want, got); d != "" {
			t.Fatal(d)
		}
	}
	if want.Clusters < 100 {
		t.Errorf("%d clusters: the test tests little", want.Clusters)
	}
}

// TestScaleAndShift: scaling by powers of two and shifting by whole numbers lose no bit, so the
// clusters are the same.
func TestScaleAndShift(t *testing.T) {
	coords := make([]float64, 600)
	random := rand.New(rand.NewPCG(3, 4))
	for i := range coords {
		coords[i] = float64(random.IntN(256)) / 8
	}
	want := run(t, coords, 2, Options{Eps: 1.25, MinPoints: 4})
	if want.Clusters < 3 || !slices.Contains(want.Label, -1) {
		t.Fatalf("%d clusters: the test tests nothing", want.Clusters)
	}
	moved := slices.Clone(coords)
	for i := range moved {
		moved[i] = 64*moved[i] - 1024
	}
	if d := cmp.Diff(want, run(t, moved, 2, Options{Eps: 80, MinPoints: 4})); d != "" {
		t.Error(d)
	}
	turned := slices.Clone(coords) // by a quarter turn
	for i := 0; i < len(turned); i += 2 {
		turned[i], turned[i+1] = -coords[i+1], coords[i]
	}
	if d := cmp.Diff(want, run(t, turned, 2, Options{Eps: 1.25, MinPoints: 4})); d != "" {
		t.Error(d)
	}
}

// TestMorePoints: adding a point never makes a core a non-core and never splits a cluster.
func TestMorePoints(t *testing.T) {
	o := Options{Eps: 0.6, MinPoints: 4}
	coords := scattered(200, 2, 10)
	before := run(t, coords[:len(coords)-2], 2, o)
	for n := 100; n < 200; n++ {
		a, b := run(t, coords[:2*n], 2, o), run(t, coords[:2*n+2], 2, o)
		for i := range n {
			if a.Core[i] && !b.Core[i] {
				t.Fatalf("point %d is a core of %d points and not of %d", i, n, n+1)
			}
			for j := range i {
				if a.Core[i] && a.Core[j] && a.Label[i] == a.Label[j] && b.Label[i] != b.Label[j] {
					t.Fatalf("%d and %d part by a point more", i, j)
				}
			}
		}
	}
	if before.Clusters < 2 {
		t.Errorf("%d clusters", before.Clusters)
	}
}

// TestJoinPoint: joins a point with its core neighbours in a part: with all of them or, in a clump,
// with at least one. It returns whether there is any. Checked against every point of the part.
func TestJoinPoint(t *testing.T) {
	const n = 200
	random := rand.New(rand.NewPCG(5, 50))
	for _, clump := range []bool{false, true} {
		s := search{tree: buildTree(scattered(n, 2, 12), 2, 1), limit: 2.25, core: make([]bool, n)}
		for i := range s.core {
			s.core[i] = random.IntN(5) > 0
		}
		s.every(s.root(), func(part span) {
			for i := range n {
				s.sets = disjoint.NewShared(n)
				near := 0
				for j := part.lo; j < part.hi; j++ {
					if s.core[i] && s.core[j] && s.between(i, j) <= s.limit {
						near++
					}
				}
				if got := s.joinPoint(i, part, clump); got != (near > 0) {
					t.Fatalf("point %d, node %d, clump %v: %v, %d near", i, part.node, clump, got, near)
				}
				joined := 0
				for j := range n {
					if s.together(i, j) && j != i {
						if j < part.lo || j >= part.hi || !s.core[j] || s.between(i, j) > s.limit {
							t.Fatalf("point %d is joined with %d", i, j)
						}
						joined++
					}
				}
				if i >= part.lo && i < part.hi && near > 0 {
					near-- // without the point itself
				}
				if !clump && joined != near || clump && near > 0 && joined > near {
					t.Fatalf("point %d, node %d, clump %v: %d joined of %d", i, part.node, clump, joined, near)
				}
			}
		})
	}
}
