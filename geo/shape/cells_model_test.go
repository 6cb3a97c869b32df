package shape

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"pgregory.net/rapid"
)

// boardSide is the number of cells of a board in x and in y.
const boardSide = 8

// board is a second model of an area: the unit cells of a small grid that it contains. Unions, cuts
// and places inside can be counted on it, in whole numbers.
type board [boardSide][boardSide]bool

func (b board) count() (n int) {
	for x := range b {
		for _, in := range b[x] {
			if in {
				n++
			}
		}
	}
	return n
}

// of returns the cells for which ask is true.
func (b board) of(o board, ask func(a, b bool) bool) (out board) {
	for x := range b {
		for y := range b[x] {
			out[x][y] = ask(b[x][y], o[x][y])
		}
	}
	return out
}

func either(a, b bool) bool    { return a || b }
func both(a, b bool) bool      { return a && b }
func onlyFirst(a, b bool) bool { return a && !b }

// at says whether a cell belongs to the board; cells outside never do.
func (b board) at(x, y int) bool {
	return x >= 0 && y >= 0 && x < boardSide && y < boardSide && b[x][y]
}

// plates are rectangles of cells.
type plates [][4]int // x, y from and to

func (p plates) board() (b board) {
	for _, r := range p {
		for x := r[0]; x < r[2]; x++ {
			for y := r[1]; y < r[3]; y++ {
				b[x][y] = true
			}
		}
	}
	return b
}

func (p plates) parts() (parts []orb.MultiPolygon) {
	for _, r := range p {
		parts = append(parts, orb.MultiPolygon{{cellRing(r)}})
	}
	return parts
}

func (p plates) area() orb.MultiPolygon { return Union(p.parts(), 1) }

func cellRing(r [4]int) orb.Ring {
	x0, y0, x1, y1 := float64(r[0]), float64(r[1]), float64(r[2]), float64(r[3])
	return orb.Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}
}

func drawPlates(t *rapid.T, name string, most int) plates {
	p := make(plates, rapid.IntRange(1, most).Draw(t, name))
	for i := range p {
		x, y := rapid.IntRange(0, boardSide-1).Draw(t, "x"), rapid.IntRange(0, boardSide-1).Draw(t, "y")
		p[i] = [4]int{x, y, rapid.IntRange(x+1, min(boardSide, x+4)).Draw(t, "to x"), rapid.IntRange(y+1, min(boardSide, y+4)).Draw(t, "to y")}
	}
	return p
}

// holds fails where an area differs from a board: in size, in the cells whose middles it contains,
// or by being invalid.
func holds(t *rapid.T, what string, mp orb.MultiPolygon, want board) {
	if err := Valid(mp); err != nil {
		t.Fatalf("%s: %v: %v", what, err, mp)
	}
	if got := float64(Area(mp)); math.Abs(got-float64(want.count())) > 1e-9 {
		t.Fatalf("%s: area %v, want %d cells", what, got, want.count())
	}
	for x := range want {
		for y := range want[x] {
			if got := Contains(mp, orb.Point{float64(x) + 0.5, float64(y) + 0.5}); got != want[x][y] {
				t.Fatalf("%s: cell %d, %d is in: %v", what, x, y, got)
			}
		}
	}
}

// TestCellsCombined: unions, intersections and differences of rectangles on a grid, whose sides
// coincide, cross and touch at corners, contain exactly the counted cells.
func TestCellsCombined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawPlates(t, "first", 6), drawPlates(t, "second", 6)
		a, b := p.area(), q.area()
		x, y := p.board(), q.board()
		holds(t, "first", a, x)
		holds(t, "joined", Join(a, b), x.of(y, either))
		holds(t, "common", Intersection(a, b), x.of(y, both))
		holds(t, "first without second", Difference(a, b), x.of(y, onlyFirst))
		holds(t, "second without first", Difference(b, a), y.of(x, onlyFirst))
		holds(t, "all at once", Union(slices.Concat(p.parts(), q.parts()), 2), x.of(y, either))
		if got, want := float64(IntersectionArea(a, b)), float64(x.of(y, both).count()); math.Abs(got-want) > 1e-9 {
			t.Fatalf("common area %v, want %v cells", got, want)
		}
		if same, changed := MakeValid(a); changed || fmt.Sprint(same) != fmt.Sprint(a) {
			t.Fatalf("a valid area is mended: %v to %v", a, same)
		}
		holds(t, "on a finer grid", OnGrid(a, 10), x)
	})
}

// TestPlacesAmongCells: a place on a side or corner of a cell of the area is in, and no other place
// outside the cells is.
func TestPlacesAmongCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlates(t, "rectangles", 5)
		b, mp := p.board(), p.area()
		for i := -1; i <= 2*boardSide+1; i++ {
			for j := -1; j <= 2*boardSide+1; j++ {
				at := orb.Point{float64(i) / 2, float64(j) / 2}
				want := false
				for _, x := range []int{int(math.Floor(at[0] - 0.25)), int(math.Floor(at[0] + 0.25))} {
					for _, y := range []int{int(math.Floor(at[1] - 0.25)), int(math.Floor(at[1] + 0.25))} {
						want = want || b.at(x, y)
					}
				}
				if got := Contains(mp, at); got != want {
					t.Fatalf("%v is in: %v", at, got)
				}
			}
		}
		if at, ok := Inside(mp, orb.Point{-3, 4}, 0); !ok || !b.at(int(math.Floor(at[0])), int(math.Floor(at[1]))) {
			t.Fatalf("a place to go to: %v, %v", at, ok)
		}
		if at, ok := Amid(mp); !ok || !b.at(int(math.Floor(at[0])), int(math.Floor(at[1]))) {
			t.Fatalf("a place amid: %v, %v", at, ok)
		}
	})
}

// distanceToCell is the distance between a cell and a segment: 0 where clipping the segment to the
// cell (Liang & Barsky, ACM Transactions on Graphics 3(1), 1984) leaves anything.
func distanceToCell(x, y int, a, b orb.Point) float64 {
	low, high := [2]float64{float64(x), float64(y)}, [2]float64{float64(x + 1), float64(y + 1)}
	from, to := 0.0, 1.0
	for k := range 2 {
		d := b[k] - a[k]
		if d == 0 {
			if a[k] < low[k] || a[k] > high[k] {
				from = 2
			}
			continue
		}
		s, e := (low[k]-a[k])/d, (high[k]-a[k])/d
		from, to = max(from, min(s, e)), min(to, max(s, e))
	}
	if from <= to {
		return 0
	}
	best := math.Inf(1)
	for _, p := range []orb.Point{a, b} { // from an end of the segment to the box
		dx, dy := max(low[0]-p[0], 0, p[0]-high[0]), max(low[1]-p[1], 0, p[1]-high[1])
		best = min(best, math.Hypot(dx, dy))
	}
	for _, c := range []orb.Point{{low[0], low[1]}, {high[0], low[1]}, {low[0], high[1]}, {high[0], high[1]}} { // from a corner to the segment
		dx, dy := b[0]-a[0], b[1]-a[1]
		along := 0.0
		if dx != 0 || dy != 0 {
			along = max(0, min(1, ((c[0]-a[0])*dx+(c[1]-a[1])*dy)/(dx*dx+dy*dy)))
		}
		best = min(best, math.Hypot(a[0]+along*dx-c[0], a[1]+along*dy-c[1]))
	}
	return best
}

// TestDistancesToCells: from a line with several corners to an area, cell by cell and segment by
// segment; and whether places are within a distance.
func TestDistancesToCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlates(t, "rectangles", 4)
		b, mp := p.board(), p.area()
		line := make(orb.LineString, rapid.IntRange(1, 4).Draw(t, "corners"))
		for i := range line {
			line[i] = orb.Point{float64(rapid.IntRange(-40, 120).Draw(t, "x")) / 8, float64(rapid.IntRange(-40, 120).Draw(t, "y")) / 8}
		}
		want := math.Inf(1)
		for x := range b {
			for y := range b[x] {
				for i := range line {
					if b[x][y] {
						want = min(want, distanceToCell(x, y, line[max(0, i-1)], line[i]))
					}
				}
			}
		}
		if got := float64(DistanceToLine(mp, line)); math.Abs(got-want) > 1e-12*max(1, want) {
			t.Fatalf("distance %v, cell by cell %v", got, want)
		}
		at := line[0]
		near := math.Inf(1)
		for x := range b {
			for y := range b[x] {
				if b[x][y] {
					near = min(near, distanceToCell(x, y, at, at))
				}
			}
		}
		for _, d := range []float64{0, near * 0.999, near * 1.001, 3} {
			if got, want := Within(mp, at, geo.Meters(d)), near <= d; got != want {
				t.Fatalf("%v within %v m: %v, its distance is %v", at, d, got, near)
			}
		}
	})
}

// TestCellsClipped: the part of an area inside a box of whole cells.
func TestCellsClipped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, window := drawPlates(t, "rectangles", 6), drawPlates(t, "window", 1)
		r := window[0]
		box := orb.Bound{Min: orb.Point{float64(r[0]), float64(r[1])}, Max: orb.Point{float64(r[2]), float64(r[3])}}
		want := p.board().of(window.board(), both)
		clipped := Clip(p.area(), box)
		if got := float64(Area(clipped)); math.Abs(got-float64(want.count())) > 1e-9 {
			t.Fatalf("%v of the box, want %d cells", got, want.count())
		}
		mended, _ := MakeValid(clipped)
		holds(t, "clipped and mended", mended, want)
		m := NewCoverage([]orb.MultiPolygon{p.area()})
		if got := float64(Area(m.Clip(0, box))); math.Abs(got-float64(want.count())) > 1e-9 {
			t.Fatalf("a coverage has %v of the box, want %d cells", got, want.count())
		}
	})
}

// TestCellsTogether: boxes that touch, directly or through others, form one class: compared with
// going through all pairs until nothing changes.
func TestCellsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlates(t, "boxes", 9)
		boxes, class := make([]orb.Bound, len(p)), make([]int, len(p))
		for i, r := range p {
			boxes[i], class[i] = orb.Bound{Min: orb.Point{float64(r[0]), float64(r[1])}, Max: orb.Point{float64(r[2]), float64(r[3])}}, i
		}
		for range p {
			for i, a := range p {
				for j, b := range p {
					if a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3] {
						class[i] = min(class[i], class[j])
						class[j] = class[i]
					}
				}
			}
		}
		var want [][]int32
		for of := range p {
			var one []int32
			for i, c := range class {
				if c == of {
					one = append(one, int32(i))
				}
			}
			if one != nil {
				want = append(want, one)
			}
		}
		if got := Together(boxes); !slices.EqualFunc(got, want, func(a, b []int32) bool { return slices.Equal(a, b) }) {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

// outside returns the cells that can be reached from outside by steps across sides, without
// entering a cell of the board; it includes one more cell on each side.
func (b board) outside() map[[2]int]bool {
	seen := map[[2]int]bool{{-1, -1}: true}
	for way := [][2]int{{-1, -1}}; len(way) > 0; {
		at := way[0]
		way = way[1:]
		for _, d := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			to := [2]int{at[0] + d[0], at[1] + d[1]}
			if to[0] < -1 || to[1] < -1 || to[0] > boardSide || to[1] > boardSide || seen[to] || b.at(to[0], to[1]) {
				continue
			}
			seen[to] = true
			way = append(way, to)
		}
	}
	return seen
}

// TestCellsEnclosed: the gaps of areas are the cells in no area that cannot be reached from
// outside; areas that overlap, share sides or touch at corners all close them.
func TestCellsEnclosed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlates(t, "areas", 9)
		b := p.board()
		outside := b.outside()
		var want board
		for x := range b {
			for y := range b[x] {
				want[x][y] = !b[x][y] && !outside[[2]int{x, y}]
			}
		}
		groups := make([]int, len(p)) // by area: the first of its overlapping group
		for i := range groups {
			groups[i] = i
		}
		for range p {
			for i := range p {
				for j := range p {
					if (plates{p[i]}).board().of(plates{p[j]}.board(), both).count() > 0 {
						groups[i] = min(groups[i], groups[j])
						groups[j] = groups[i]
					}
				}
			}
		}
		var parts []orb.MultiPolygon
		for _, g := range Gaps(p.parts()) {
			if g.Beside < 0 || int(g.Beside) >= len(p) {
				t.Fatalf("a gap beside area %d of %d", g.Beside, len(p))
			}
			box, borders := g.Ground.Bound(), false
			for i, r := range p { // it, or an area that overlaps it, and so on: their boxes touch
				borders = borders || groups[i] == groups[g.Beside] && box.Min[0] <= float64(r[2]) && box.Max[0] >= float64(r[0]) && box.Min[1] <= float64(r[3]) && box.Max[1] >= float64(r[1])
			}
			if !borders || groups[g.Beside] != int(g.Beside) {
				t.Fatalf("the gap %v is not beside area %d of %v", box, g.Beside, p)
			}
			parts = append(parts, orb.MultiPolygon{g.Ground})
		}
		got := Union(parts, 1)
		if area := float64(Area(got)); math.Abs(area-float64(want.count())) > 1e-9 {
			t.Fatalf("%v of gaps, want %d cells: %v", area, want.count(), p)
		}
		for x := range want {
			for y := range want[x] {
				if Contains(got, orb.Point{float64(x) + 0.5, float64(y) + 0.5}) != want[x][y] {
					t.Fatalf("cell %d, %d in a gap: %v", x, y, !want[x][y])
				}
			}
		}
	})
}

// TestCellsOverlapping: which areas overlap, in which order, and by how much.
func TestCellsOverlapping(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlates(t, "areas", 6)
		least := rapid.IntRange(0, 3).Draw(t, "least")
		type pair struct{ a, b, cells int }
		var want []pair
		for j := range p {
			for i := range j {
				if n := (plates{p[i]}).board().of(plates{p[j]}.board(), both).count(); n > least {
					want = append(want, pair{i, j, n})
				}
			}
		}
		got, all := Overlaps(p.parts(), float64(least)+0.5, 100)
		if !all || len(got) != len(want) {
			t.Fatalf("%d overlaps, all %v; want %v", len(got), all, want)
		}
		for k, o := range got {
			if int(o.First) != want[k].a || int(o.Second) != want[k].b || math.Abs(float64(Area(o.Shared))-float64(want[k].cells)) > 1e-9 {
				t.Fatalf("overlap %d: areas %d and %d share %v, want %v", k, o.First, o.Second, Area(o.Shared), want[k])
			}
		}
		if len(want) > 1 {
			if some, all := Overlaps(p.parts(), float64(least)+0.5, 1); all || len(some) != 1 {
				t.Fatalf("after one of %d: %d, all %v", len(want), len(some), all)
			}
		}
	})
}

// TestCoverageOfCells: which area owns a cell, and the sequence of areas along a row of cells, for
// areas that overlap; the first area owns common cells.
func TestCoverageOfCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlates(t, "areas", 7)
		m := NewCoverage(p.parts())
		holder := func(x, y int) int32 {
			for i, r := range p {
				if (plates{r}).board().at(x, y) {
					return int32(i)
				}
			}
			return -1
		}
		for y := range boardSide {
			var want []int32
			for x := range boardSide {
				of := holder(x, y)
				if got := m.First(orb.Point{float64(x) + 0.5, float64(y) + 0.5}); got != of {
					t.Fatalf("cell %d, %d is of %d, want %d", x, y, got, of)
				}
				if len(want) == 0 || want[len(want)-1] != of {
					want = append(want, of)
				}
			}
			var got []int32
			end := 0.0
			for _, part := range m.Along(nil, orb.Point{0.25, float64(y) + 0.5}, orb.Point{boardSide - 0.25, float64(y) + 0.5}) {
				if part.From != end || part.To <= part.From {
					t.Fatalf("row %d: a part from %v to %v after %v", y, part.From, part.To, end)
				}
				if cell := 0.25 + part.From*(boardSide-0.5); part.From > 0 && math.Abs(cell-math.Round(cell)) > 1e-9 {
					t.Fatalf("row %d: area %d begins at %v", y, part.Area, cell)
				}
				got, end = append(got, part.Area), part.To
			}
			if !slices.Equal(got, want) || end != 1 {
				t.Fatalf("row %d: %v to %v, want %v", y, got, end, want)
			}
		}
		window := drawPlates(t, "window", 1)[0]
		box := orb.Bound{Min: orb.Point{float64(window[0]) + 0.1, float64(window[1]) + 0.1}, Max: orb.Point{float64(window[2]) - 0.1, float64(window[3]) - 0.1}}
		across, cover := m.Meeting(box)
		for i, r := range p {
			whole := r[0] <= window[0] && r[1] <= window[1] && r[2] >= window[2] && r[3] >= window[3]
			some := (plates{r}).board().of(plates{window}.board(), both).count() > 0
			switch listed := slices.Contains(across, int32(i)); {
			case cover >= 0 && int32(i) > cover:
			case whole != (int32(i) == cover) && (cover < 0 || int32(i) < cover):
				t.Fatalf("area %d holds all of the box: %v; told is %d", i, whole, cover)
			case some && !whole && !listed, !some && listed:
				t.Fatalf("area %d has some of the box: %v; told are %v", i, some, across)
			}
		}
	})
}

// TestClosedCells: closing by less than a cell fills no gap of one cell, and rounds each reentrant
// corner by a fillet with half the gap as radius: (1 - pi/4) of its square, by hand. The library
// draws arcs by chords, some thousandths too small.
func TestClosedCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlates(t, "rectangles", 4)
		b := p.board()
		corners := 0
		for x := 0; x <= boardSide; x++ {
			for y := 0; y <= boardSide; y++ {
				held := 0
				for _, d := range [][2]int{{0, 0}, {-1, 0}, {0, -1}, {-1, -1}} {
					if b.at(x+d[0], y+d[1]) {
						held++
					}
				}
				if held == 3 {
					corners++
				}
				if held == 2 && b.at(x, y) == b.at(x-1, y-1) {
					return // cells that touch at a corner give another shape
				}
			}
		}
		const gap = 0.8
		want := float64(b.count()) + float64(corners)*(1-math.Pi/4)*gap*gap/4
		closed := Closing(p.area(), gap)
		if got := float64(Area(closed)); math.Abs(got-want) > 0.004*float64(corners)+1e-9 {
			t.Fatalf("%v closed, want %v: %d corners", got, want, corners)
		}
		if missing := Area(Difference(p.area(), closed)); missing > 1e-9 {
			t.Fatalf("%v is lost by closing", missing)
		}
	})
}
