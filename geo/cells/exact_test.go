package cells

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// These tests hold squares to a second way of finding them, in fractions of whole numbers:
// each square of the neighbourhood is asked by itself whether the line or the area is in it.

// passes says whether a line has a piece in a square, its left and lower side with it: above 0
// where what is left of the line between the square's sides has a length, 0 where it is one
// place, a corner: there rounding may tell the square or leave it.
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

// share is a part of a line, of whole numbers, the second above 0.
type share struct{ of, all int64 }

func (s share) compare(o share) int { return cmp.Compare(s.of*o.all, o.of*s.all) }

// fine returns a coordinate as a whole number of 64ths, on which all that is drawn here lies.
func fine(v float64) int64 { return int64(64 * v) }

// around calls do for the squares of a neighbourhood that holds all that is drawn here.
func around(do func(c Cell)) {
	for y := int32(-9); y <= 9; y++ {
		for x := int32(-9); x <= 9; x++ {
			do(Cell{x, y})
		}
	}
}

// someplace draws a place on 64ths, often on a line of the grid, in the middle of two or a
// little off it, on both sides of nothing.
func someplace(random *rand.Rand) orb.Point {
	draw := func() float64 {
		off := [...]int{0, 0, 32, 33, 31, 34, 30, random.IntN(64)}
		return float64(random.IntN(13)-6) + float64(off[random.IntN(len(off))]-32)/64
	}
	return orb.Point{draw(), draw()}
}

// TestAlongInFractions: the squares of a line are those of its ends and those that it has a
// piece in.
func TestAlongInFractions(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 1))
	for range 400 {
		line := make(orb.LineString, 2+random.IntN(3))
		for i := range line {
			line[i] = someplace(random)
		}
		if random.IntN(4) == 0 { // along a line of the grid
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

// compare holds a set to what is said of each square: that it is in, or that it may be.
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

// TestCoverInFractions: a triangle with a triangle cut out of it covers the squares of its
// sides and those whose middle it holds; a place is inside where an odd number of sides lies
// to its right, asked by the sign of an area.
func TestCoverInFractions(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 2))
	for range 300 {
		a, b, c := someplace(random), someplace(random), someplace(random)
		third := func(p orb.Point) orb.Point { // a third of the way in, on 64ths again
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

// oddToTheRight tells by fractions whether a place is inside. A middle that lies on a side is
// of a square that the side passes through, so that either answer will do for it.
func oddToTheRight(area orb.Polygon, p orb.Point) bool {
	odd := false
	for _, ring := range area {
		for i := range len(ring) - 1 {
			u, v := ring[i], ring[i+1]
			if (u[1] > p[1]) == (v[1] > p[1]) {
				continue
			}
			// (v-u) x (p-u) is above 0 where p lies left of a side that runs up
			left := fine(v[0]-u[0])*fine(p[1]-u[1]) - fine(v[1]-u[1])*fine(p[0]-u[0])
			if (left > 0) == (v[1] > u[1]) {
				odd = !odd
			}
		}
	}
	return odd
}

// TestAt: by hand, on both sides of nothing, on the lines of the grid and far beyond any.
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

// TestOf: in any order and many times over, squares are the same set; what was given stays as
// it was.
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

// TestNestedOutline: a frame of 9 squares, in its hole a frame of 5, in that a single square.
// Each hole belongs to the frame next about it, whose ground is 81-49 and 25-9 squares.
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

// TestCornersOnly: an outline has a corner where it turns and nowhere else, and two squares
// that touch in a corner are two polygons.
func TestCornersOnly(t *testing.T) {
	bar := Set{{0, 0}, {1, 0}, {2, 0}}.Outline()
	if len(bar) != 1 || len(bar[0]) != 1 || len(bar[0][0]) != 5 {
		t.Errorf("a bar of three squares: %v", bar)
	}
	pair := Of([]Cell{{0, 0}, {1, 1}}).Outline()
	if len(pair) != 2 || len(pair[0][0]) != 5 || len(pair[1][0]) != 5 {
		t.Errorf("two squares that touch in a corner: %v", pair)
	}
	// a hole that touches another in a corner: two holes of one square each
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

// TestPolygonsArePatches: of random squares, crowded and few, each patch that hangs together
// by sides is one polygon, and what it shuts in is a hole for each patch of
// other squares that hangs together by sides: counted by filling them one after another.
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
			// its ground is one patch: all that is filled from one of its squares, no more
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
			// squares beside the patch hang together with all that it does not shut in
			if want := patches(func(c Cell) bool { return !filled[c] }) - 1; len(polygon)-1 != want {
				t.Fatalf("%d holes, %d patches are shut in by %v", len(polygon)-1, want, polygon)
			}
		}
		if got, want := len(out), patches(has); got != want {
			t.Fatalf("%d polygons of %d patches: %v", got, want, set)
		}
	}
}

// patches counts what hangs together by sides, of the squares from -1 to 7.
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
