package cells

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// These tests compare the squares with a second computation in exact fractions: for each square
// nearby it decides separately whether the line or the area is in it.

// passes classifies a line and a square, which includes its left and lower side. The result is
// above 0 if the part of the line between the square's sides has a length. It is 0 if that part is
// a single point, a corner: there rounding may include the square or not.
func passes(a, b orb.Point, c Cell) int {
	lo, hi := share{0, 1}, share{1, 1}
	for axis, low := range []int32{c.X, c.Y} {
		from, way, least := fine(a[axis]), fine(b[axis])-fine(a[axis]), 64*int64(low)
		if way == 0 {
			if from < least || from >= least+64 {
				return -1
			}
			continue
		}
		in, out := share{least - from, way}, share{least + 64 - from, way}
		if way < 0 {
			in, out = share{from - least - 64, -way}, share{from - least, -way}
		}
		if in.compare(lo) > 0 {
			lo = in
		}
		if out.compare(hi) < 0 {
			hi = out
		}
	}
	return hi.compare(lo)
}

// share is a fraction of a line: of/all, with all above 0.
type share struct{ of, all int64 }

func (s share) compare(o share) int { return cmp.Compare(s.of*o.all, o.of*s.all) }

// fine returns a coordinate as a whole number of 64ths. Everything drawn here is a multiple of
// 1/64.
func fine(v float64) int64 { return int64(64 * v) }

// around calls do for each square of a neighbourhood that contains everything drawn here.
func around(do func(c Cell)) {
	for y := int32(-9); y <= 9; y++ {
		for x := int32(-9); x <= 9; x++ {
			do(Cell{x, y})
		}
	}
}

// someplace draws a point in 64ths: often on a grid line, midway between two or slightly off one,
// with positive and negative coordinates.
func someplace(random *rand.Rand) orb.Point {
	draw := func() float64 {
		off := [...]int{0, 0, 32, 33, 31, 34, 30, random.IntN(64)}
		return float64(random.IntN(13)-6) + float64(off[random.IntN(len(off))]-32)/64
	}
	return orb.Point{draw(), draw()}
}

// TestAlongInFractions: the squares of a line are those of its ends and those that contain a part
// of it.
func TestAlongInFractions(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 1))
	for range 400 {
		line := make(orb.LineString, 2+random.IntN(3))
		for i := range line {
			line[i] = someplace(random)
		}
		if random.IntN(4) == 0 { // along a grid line
			line[1] = orb.Point{line[0][0], line[1][1]}
		}
		compare(t, line, Along(line), func(c Cell) (in, may bool) {
			for i := range line {
				in = in || int32(math.Floor(line[i][0])) == c.X && int32(math.Floor(line[i][1])) == c.Y
				if i > 0 {
					in, may = in || passes(line[i-1], line[i], c) > 0, may || passes(line[i-1], line[i], c) == 0
				}
			}
			return in, may
		})
	}
}

// compare checks a set of squares: said returns whether a square must be in it, and whether it may
// be.
func compare(t *testing.T, of any, got Set, said func(c Cell) (in, may bool)) {
	t.Helper()
	if !slices.Equal(got, sorted(slices.Clone(got))) {
		t.Fatalf("%v: not in order, or one twice: %v", of, got)
	}
	far := len(got)
	around(func(c Cell) {
		has := slices.Contains(got, c)
		if in, may := said(c); in && !has || has && !in && !may {
			t.Fatalf("%v: square %v in %v, by fractions %v", of, c, has, in)
		}
		if has {
			far--
		}
	})
	if far != 0 {
		t.Fatalf("%v: %d squares far from it", of, far)
	}
}

// TestCoverInFractions: a triangle with a triangular hole covers the squares that its sides pass
// through and those whose middle is inside. A point is inside if the number of sides to its right
// is odd, decided by the sign of an area.
func TestCoverInFractions(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 2))
	for range 300 {
		a, b, c := someplace(random), someplace(random), someplace(random)
		third := func(p orb.Point) orb.Point { // a third of the way in, again in 64ths
			return orb.Point{math.Round(64*(p[0]/3+(a[0]+b[0]+c[0])*2/9)) / 64, math.Round(64*(p[1]/3+(a[1]+b[1]+c[1])*2/9)) / 64}
		}
		area := orb.Polygon{{a, b, c, a}, {third(a), third(c), third(b), third(a)}}
		compare(t, area, Cover(orb.MultiPolygon{area}), func(c Cell) (in, may bool) {
			in = oddToTheRight(area, orb.Point{float64(c.X) + 0.5, float64(c.Y) + 0.5})
			for _, ring := range area {
				for i := range len(ring) - 1 {
					way := passes(ring[i], ring[i+1], c)
					in, may = in || way > 0 || At(ring[i]) == c, may || way == 0
				}
			}
			return in, may
		})
	}
}

// oddToTheRight decides in fractions whether a point is inside. If the middle of a square is on a
// side, the side passes through the square, so either result is correct.
func oddToTheRight(area orb.Polygon, p orb.Point) bool {
	odd := false
	for _, ring := range area {
		for i := range len(ring) - 1 {
			u, v := ring[i], ring[i+1]
			if (u[1] > p[1]) == (v[1] > p[1]) {
				continue
			}
			// (v-u) x (p-u) is above 0 if p is left of a side that runs up
			left := fine(v[0]-u[0])*fine(p[1]-u[1]) - fine(v[1]-u[1])*fine(p[0]-u[0])
			if (left > 0) == (v[1] > u[1]) {
				odd = !odd
			}
		}
	}
	return odd
}

// TestAt: by hand, at positive and negative coordinates, on grid lines and far outside the range.
func TestAt(t *testing.T) {
	for _, c := range []struct {
		place  orb.Point
		square Cell
	}{
		{orb.Point{0, 0}, Cell{0, 0}}, {orb.Point{-0.25, 0.25}, Cell{-1, 0}}, {orb.Point{3, -2}, Cell{3, -2}},
		{orb.Point{2.999, -2.001}, Cell{2, -3}}, {orb.Point{1e300, -1e300}, Cell{1 << 30, -1 << 30}},
		{orb.Point{1<<30 - 1, 1 - 1<<30}, Cell{1<<30 - 1, 1 - 1<<30}},
	} {
		if got := At(c.place); got != c.square {
			t.Errorf("%v lies in %v, by hand %v", c.place, got, c.square)
		}
	}
	around(func(c Cell) {
		if At(c.Middle()) != c || c.Middle() != (orb.Point{float64(c.X) + 0.5, float64(c.Y) + 0.5}) {
			t.Fatalf("the middle of %v is %v", c, c.Middle())
		}
	})
}

// TestOf: squares in any order, with repeats, make the same set; the argument is unchanged.
func TestOf(t *testing.T) {
	given := []Cell{{2, 1}, {-1, 3}, {2, 1}, {0, -4}, {1, 1}, {-1, 3}, {2, -4}}
	before := slices.Clone(given)
	if got, want := Of(given), (Set{{0, -4}, {2, -4}, {1, 1}, {2, 1}, {-1, 3}}); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if !slices.Equal(given, before) {
		t.Errorf("what was given became %v", given)
	}
	if got := Of(nil); len(got) != 0 || len(got.Outline()) != 0 {
		t.Errorf("of nothing: %v, outline %v", got, got.Outline())
	}
}

// TestNestedOutline: a frame 9 squares wide, in its hole a frame of 5, and in that hole a single
// square. Each hole belongs to the frame directly around it. The frames cover 81-49 and 25-9
// squares.
func TestNestedOutline(t *testing.T) {
	var all []Cell
	around(func(c Cell) {
		if d := max(c.X, -c.X, c.Y, -c.Y); d == 4 || d == 2 || d == 0 {
			all = append(all, c)
		}
	})
	out := Of(all).Outline()
	if len(out) != 3 {
		t.Fatalf("%d polygons, want 3", len(out))
	}
	slices.SortFunc(out, func(a, b orb.Polygon) int { return int(signed(a[0]) - signed(b[0])) })
	for i, want := range [][]float64{{1}, {25, -9}, {81, -49}} {
		var got []float64
		for _, ring := range out[i] {
			got = append(got, signed(ring)/2)
		}
		if !slices.Equal(got, want) {
			t.Errorf("rings of %v squares, want %v", got, want)
		}
	}
}

// TestCornersOnly: an outline has a vertex only where it turns, and two squares that touch at a
// corner are two polygons.
func TestCornersOnly(t *testing.T) {
	bar := Set{{0, 0}, {1, 0}, {2, 0}}.Outline()
	if len(bar) != 1 || len(bar[0]) != 1 || len(bar[0][0]) != 5 {
		t.Errorf("a bar of three squares: %v", bar)
	}
	pair := Of([]Cell{{0, 0}, {1, 1}}).Outline()
	if len(pair) != 2 || len(pair[0][0]) != 5 || len(pair[1][0]) != 5 {
		t.Errorf("two squares that touch in a corner: %v", pair)
	}
	// two holes that touch at a corner: two holes of one square each
	var all []Cell
	for y := range int32(4) {
		for x := range int32(4) {
			if c := (Cell{x, y}); c != (Cell{1, 1}) && c != (Cell{2, 2}) {
				all = append(all, c)
			}
		}
	}
	if holes := Of(all).Outline(); len(holes) != 1 || len(holes[0]) != 3 || signed(holes[0][1]) != -2 || signed(holes[0][2]) != -2 {
		t.Errorf("two holes that touch in a corner: %v", holes)
	}
}

// TestPolygonsArePatches: each patch of random squares connected by sides is one polygon. Its holes
// are the patches of empty squares, connected by sides, that it encloses. Both are counted by
// filling squares one after another.
func TestPolygonsArePatches(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 3))
	for round := range 2000 {
		var all []Cell
		for y := range int32(7) {
			for x := range int32(7) {
				if random.Float64() < 0.35+0.1*float64(round%5) {
					all = append(all, Cell{x, y})
				}
			}
		}
		set := Of(all)
		has := func(c Cell) bool { return slices.Contains(set, c) }
		out := set.Outline()
		for _, polygon := range out {
			// the polygon covers one patch: exactly the squares filled from one of its squares
			in := 0.0
			for _, ring := range polygon {
				in += signed(ring) / 2
			}
			first := slices.IndexFunc(set, func(c Cell) bool { return contains(orb.MultiPolygon{polygon}, c.Middle()) })
			if first < 0 {
				t.Fatalf("%v holds no square of %v", polygon, set)
			}
			filled := map[Cell]bool{}
			if fill(set[first], has, filled); float64(len(filled)) != in {
				t.Fatalf("%v has %v squares, and its patch of %v has %d", polygon, in, set, len(filled))
			}
			// the squares next to the patch are connected with all that it does not enclose
			if want := patches(func(c Cell) bool { return !filled[c] }) - 1; len(polygon)-1 != want {
				t.Fatalf("%d holes, %d patches are shut in by %v", len(polygon)-1, want, polygon)
			}
		}
		if got, want := len(out), patches(has); got != want {
			t.Fatalf("%d polygons of %d patches: %v", got, want, set)
		}
	}
}

// patches counts the patches connected by sides among the squares from -1 to 7.
func patches(has func(Cell) bool) (n int) {
	filled := map[Cell]bool{}
	for y := int32(-1); y <= 7; y++ {
		for x := int32(-1); x <= 7; x++ {
			if c := (Cell{x, y}); has(c) && !filled[c] {
				n++
				fill(c, has, filled)
			}
		}
	}
	return n
}

func fill(c Cell, has func(Cell) bool, filled map[Cell]bool) {
	if c.X < -1 || c.X > 7 || c.Y < -1 || c.Y > 7 || !has(c) || filled[c] {
		return
	}
	filled[c] = true
	for _, side := range []Cell{{c.X + 1, c.Y}, {c.X - 1, c.Y}, {c.X, c.Y + 1}, {c.X, c.Y - 1}} {
		fill(side, has, filled)
	}
}
