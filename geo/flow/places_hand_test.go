package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// TestCellsOfBoxes: every place in a box is in a visited cell, no cell is visited twice, and no
// visited cell is more than a cell away from the box; also at the poles, across the antimeridian
// and around the whole globe.
func TestCellsOfBoxes(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 1))
	for _, size := range []float64{100, 5000, 300_000} {
		grid := newCells(size)
		for round := range 200 {
			wide, high := 6*size/111_000*random.Float64(), 6*size/111_000*random.Float64()
			b := box{west: 360*random.Float64() - 180, south: 170*random.Float64() - 85}
			switch round % 5 {
			case 1:
				b.west = 180 - wide/2 // across the antimeridian
			case 2:
				b.south = 90 - high // to the pole
			case 3:
				b.south = -90
			}
			b.east, b.north = b.west+wide, min(b.south+high, 90)
			seen := map[uint64]bool{}
			grid.eachCell(b, func(k uint64) bool {
				if seen[k] {
					t.Fatalf("%+v: cell %x twice", b, k)
				}
				seen[k] = true
				return true
			})
			for i := range 60 {
				p := orb.Point{b.west + wide*random.Float64(), b.south + (b.north-b.south)*random.Float64()}
				if i < 4 { // the corners
					p = [4]orb.Point{{b.west, b.south}, {b.east, b.south}, {b.east, b.north}, {b.west, b.north}}[i]
				}
				if !seen[grid.cellOf(p)] {
					t.Fatalf("%+v in cells of %v m: %v lies in none", b, size, p)
				}
			}
		}
	}
	all := 0
	grid := newCells(1e6)
	grid.eachCell(box{-180, -90, 180, 90}, func(uint64) bool { all++; return true })
	want := 0.0
	for row := grid.row(-90); row <= grid.row(90); row++ {
		want += grid.columns(row)
	}
	if float64(all) != want {
		t.Errorf("%d cells round the globe, want %v", all, want)
	}
	visited := 0
	grid.eachCell(box{-180, -90, 180, 90}, func(uint64) bool { visited++; return visited < 7 })
	if visited != 7 {
		t.Errorf("visited %d after it was told to stop at 7", visited)
	}
}

// TestCellsAreWideEnough: two places no farther apart than the size are in one cell or in
// neighbouring cells.
func TestCellsAreWideEnough(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 14))
	const size = 2000
	grid := newCells(size)
	for range 3000 {
		p := orb.Point{360*random.Float64() - 180, 179*random.Float64() - 89.5}
		q, _ := earth.WGS84.Direct(p, 360*random.Float64(), geo.Meters(size*random.Float64()))
		found, cells := false, 0
		grid.eachCell(box{p[0], p[1], p[0], p[1]}.grown(size), func(k uint64) bool {
			found = found || k == grid.cellOf(q)
			cells++
			return true
		})
		if !found {
			t.Fatalf("%v is %v m from %v and not in the cells about it", q, earth.Distance(p, q), p)
		}
		if cells > 16 && math.Abs(p[1]) < 88 {
			t.Fatalf("%d cells about %v", cells, p)
		}
	}
}

// TestBoxes: by hand.
func TestBoxes(t *testing.T) {
	for _, c := range []struct {
		name string
		path orb.LineString
		want box
	}{
		{"a place", orb.LineString{{3, 4}}, box{3, 4, 3, 4}},
		{"a line", orb.LineString{{3, 4}, {1, 9}, {2, -1}}, box{1, -1, 3, 9}},
		{"over the antimeridian", orb.LineString{{179, 1}, {-178, 2}, {178, 0}}, box{178, 0, 182, 2}},
		{"over it westward", orb.LineString{{-179, 1}, {177, 2}}, box{-183, 1, -179, 2}},
		{"past it as written", orb.LineString{{179, 1}, {182, 2}}, box{179, 1, 182, 2}},
	} {
		if got := boxOf(c.path); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
	b := box{178, 0, 182, 2}
	for p, want := range map[orb.Point]bool{{179, 1}: true, {-179, 1}: true, {-178, 2}: true, {-177.9, 1}: false, {178, 0}: true, {177.9, 1}: false, {180, 2.01}: false, {180, -0.01}: false, {541, 1}: true} {
		if got := b.holds(p); got != want {
			t.Errorf("holds %v: %v", p, got)
		}
	}
	// 110574.3 m a degree of latitude and 111319.5 m of longitude at the equator; at 60 N
	// 55800.1 m of longitude
	g := box{0, 0, 0, 0}.grown(1000)
	for what, v := range map[string][2]float64{"north": {g.north, 1000 / 110574.3}, "south": {g.south, -1000 / 110574.3}, "east": {g.east, 1000 / 111319.5}, "west": {g.west, -1000 / 111319.5}} {
		near(t, what, v[0], v[1], 1e-8)
	}
	g = box{10, 59.99, 11, 60 - 1000/110574.3}.grown(1000)
	near(t, "east at 60 N", g.east, 11+1000/55800.1, 1e-6)
	near(t, "west at 60 N", g.west, 10-1000/55800.1, 1e-6)
	if g := (box{0, 89.95, 1, 90}).grown(1000); !(g.east-g.west < 30) {
		t.Errorf("near the pole: %+v", g)
	}
}

// TestBucketsAreAMap: numbers are found under their keys, the last added first, even when keys
// share a slot.
func TestBucketsAreAMap(t *testing.T) {
	random := rand.New(rand.NewPCG(77, 7))
	for _, n := range []int{0, 1, 7, 100, 1000} {
		b, want := newBuckets(n), map[uint64][]int32{}
		for i := range int32(n) {
			k := uint64(random.IntN(n/3 + 1))
			if i%2 == 0 {
				k <<= 33
			}
			b.put(k, i)
			want[k] = append([]int32{i}, want[k]...)
		}
		for k := range uint64(n + 5) {
			for _, k := range []uint64{k, k << 33} {
				var got []int32
				for i := b.first(k); i >= 0; i = b.after(i) {
					got = append(got, i)
				}
				if !slices.Equal(got, want[k]) {
					t.Fatalf("of %d, under %d: %v, want %v", n, k, got, want[k])
				}
			}
		}
	}
}

// TestMeetingPlace: where two segments meet, by hand.
func TestMeetingPlace(t *testing.T) {
	for _, c := range []struct {
		name       string
		a, b, c, d orb.Point
		want       orb.Point
		meet       bool
	}{
		{"crossing", orb.Point{0, 0}, orb.Point{4, 4}, orb.Point{0, 4}, orb.Point{4, 0}, orb.Point{2, 2}, true},
		{"crossing aside", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{1, 1}, orb.Point{1, -3}, orb.Point{1, 0}, true},
		{"end on the middle", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{3, 5}, orb.Point{3, 0}, orb.Point{3, 0}, true},
		{"end to end", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{4, 0}, orb.Point{4, 5}, orb.Point{4, 0}, true},
		{"short of it", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{3, 5}, orb.Point{3, 0.1}, orb.Point{}, false},
		{"past its end", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{4.1, 5}, orb.Point{4.1, -5}, orb.Point{}, false},
		{"boxes meet, segments do not", orb.Point{0, 0}, orb.Point{4, 4}, orb.Point{3, 0}, orb.Point{4, 2}, orb.Point{}, false},
		{"side by side", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{0, 1}, orb.Point{4, 1}, orb.Point{}, false},
		{"along each other", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{1, 0}, orb.Point{6, 0}, orb.Point{1, 0}, true},
		{"in line, apart", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{5, 0}, orb.Point{6, 0}, orb.Point{}, false},
		{"over the antimeridian", orb.Point{179, 0}, orb.Point{-179, 2}, orb.Point{-179, 0}, orb.Point{179, 2}, orb.Point{180, 1}, true},
	} {
		got, meet := meetingPlace(c.a, c.b, c.c, c.d)
		if meet != c.meet || meet && math.Hypot(earth.Wrap(got[0]-c.want[0]), got[1]-c.want[1]) > 1e-12 {
			t.Errorf("%s: %v, %v", c.name, got, meet)
		}
		if _, back := meetingPlace(c.d, c.c, c.b, c.a); back != c.meet {
			t.Errorf("%s, from the other end: %v", c.name, back)
		}
	}
}

// TestSegmentsFromTheOrigin: squared distance and fraction along the segment; by hand.
func TestSegmentsFromTheOrigin(t *testing.T) {
	for _, c := range []struct{ ax, ay, bx, by, squared, share float64 }{
		{-1, 3, 3, 3, 9, 0.25}, {3, 4, 6, 8, 25, 0}, {6, 8, 3, 4, 25, 1}, {-2, 0, 6, 0, 0, 0.25}, {3, 4, 3, 4, 25, 0}, {0, -2, 4, 2, 2, 0.25},
	} {
		squared, share := fromOrigin(c.ax, c.ay, c.bx, c.by)
		near(t, fmt.Sprint(c), squared, c.squared, 1e-12)
		near(t, fmt.Sprint(c), share, c.share, 1e-12)
	}
	// 0.01 degrees of latitude at the equator are 1105.74 m
	near(t, "from a segment", distanceToSegment(orb.Point{10, 0.01}, orb.Point{9.9, 0}, orb.Point{10.1, 0}), 1105.74, 0.01)
	near(t, "from its end, over the antimeridian", distanceToSegment(orb.Point{-179.99, 0}, orb.Point{179.9, 0}, orb.Point{180, 0}), 1113.19, 0.01)
}

// TestPlaceAt: along a path of 1113.2 m east and 1105.7 m north at the equator, across the
// antimeridian, with a repeated vertex; by hand.
func TestPlaceAt(t *testing.T) {
	path := orb.LineString{{179.995, 0}, {-179.995, 0}, {-179.995, 0}, {-179.995, 0.01}}
	for at, want := range map[float64]orb.Point{
		0: {179.995, 0}, 278.299: {179.9975, 0}, 556.597: {180, 0}, 1113.195: {180.005, 0}, 1113.195 + 552.871: {-179.995, 0.005}, 1e6: {-179.995, 0.01},
	} {
		got := placeAt(path, at)
		near(t, fmt.Sprint(at, " m: longitude"), earth.Wrap(got[0]-want[0]), 0, 1e-7)
		near(t, fmt.Sprint(at, " m: latitude"), got[1], want[1], 1e-7)
	}
}

// TestNearestPerLine: of the hits of one place on one line the nearest is kept, a tie to the first
// along the line; sorted by line, place along it, and number; by hand.
func TestNearestPerLine(t *testing.T) {
	got := nearestPerLine([]cut{{2, 5, 70, 1, 0}, {1, 9, 10, 0.5, 0}, {2, 5, 30, 0.5, 0}, {2, 5, 20, 0.5, 0}, {2, 4, 20, 3, 0}, {1, 3, 40, 0, 0}})
	want := []cut{{1, 9, 10, 0.5, 0}, {1, 3, 40, 0, 0}, {2, 4, 20, 3, 0}, {2, 5, 20, 0.5, 0}}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestMissingNamesInAnyOrder: with names for some lines only, every order of the records gives the
// same components, nodes, upstream lengths and troubles.
func TestMissingNamesInAnyOrder(t *testing.T) {
	at := func(x, y float64) orb.Point { return orb.Point{x / 100, -y / 100} }
	lines := []Line{
		named(plain("a", at(0, 0), at(0, 1)), "n0", "n1"),
		named(plain("b", at(0, 1), at(0, 2)), "n1", "n2"),
		plain("c", at(1, 1), at(0, 2)),
		plain("d", at(0, 2), at(0, 3)),
		named(plain("e", at(5, 5), at(5, 6)), "m0", "m1"),
	}
	answer := func(lines []Line) string {
		n, troubles := Build(lines, DefaultOptions())
		var out []string
		for i := range n.Edges {
			e := &n.Edges[i]
			out = append(out, fmt.Sprintf("%s %v %v %d %.6f %d", lines[e.Line].Name, n.Nodes[e.From].At, n.Nodes[e.To].At, e.Component, float64(e.UpstreamKm), e.Order))
		}
		for _, x := range troubles {
			text := x.Kind + " " + x.Message
			for _, l := range x.Lines {
				text += " " + lines[l].Name
			}
			out = append(out, text)
		}
		return fmt.Sprint(out)
	}
	want := answer(lines)
	permutations := 0
	var permute func(k int)
	permute = func(k int) {
		if k == len(lines) {
			permutations++
			if got := answer(lines); got != want {
				t.Fatalf("%s\nwant %s", got, want)
			}
			return
		}
		for i := k; i < len(lines); i++ {
			lines[k], lines[i] = lines[i], lines[k]
			permute(k + 1)
			lines[k], lines[i] = lines[i], lines[k]
		}
	}
	permute(0)
	if permutations != 120 {
		t.Errorf("%d orders", permutations)
	}
}

// TestNetworkTurnedRoundTheGlobe: the same lines moved east, across the antimeridian and south of
// the equator give the same network, except for positions.
func TestNetworkTurnedRoundTheGlobe(t *testing.T) {
	lines := lattice(5)
	want, _ := Build(lines, DefaultOptions())
	for _, c := range []struct {
		east  float64
		south bool
	}{{37.25, false}, {179.98, false}, {-180.02, false}, {360, false}, {0, true}} {
		moved := slices.Clone(lines)
		for i := range moved {
			moved[i].Path = slices.Clone(moved[i].Path)
			for k, p := range moved[i].Path {
				p[0] = earth.Wrap(p[0] + c.east)
				if c.south {
					p[1] = -p[1]
				}
				moved[i].Path[k] = p
			}
		}
		got, _ := Build(moved, DefaultOptions())
		if len(got.Edges) != len(want.Edges) || got.Components != want.Components || len(got.Nodes) != len(want.Nodes) {
			t.Fatalf("%+v: %d edges, %d nodes, %d parts", c, len(got.Edges), len(got.Nodes), got.Components)
		}
		for i := range want.Edges {
			a, b := want.Edges[i], got.Edges[i]
			if a.Line != b.Line || a.From != b.From || a.To != b.To || a.Order != b.Order || a.Minor != b.Minor || a.Flipped != b.Flipped {
				t.Fatalf("%+v: edge %d is %+v, was %+v", c, i, b, a)
			}
			near(t, "length", b.Length, float64(a.Length), 1e-6*float64(a.Length))
			near(t, "above", b.UpstreamKm, float64(a.UpstreamKm), 1e-6*float64(a.UpstreamKm))
			near(t, "to the outlet", b.OutletKm, float64(a.OutletKm), 1e-6*float64(a.OutletKm)+1e-9)
		}
	}
}

// TestSweepsAddUp: the result of several sources is the sum of their single results; twice the
// amount gives twice the result; and where more passes, no less leaves.
func TestSweepsAddUp(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 42))
	n, _ := Build(lattice(6), DefaultOptions())
	for range 20 {
		tr := everywhere(n, 2e-4)
		for i := range tr.Pass {
			tr.Pass[i] = 0.2 + 0.8*random.Float64()
		}
		var sources []Source
		for range 5 {
			e := int32(random.IntN(len(n.Edges)))
			sources = append(sources, Source{Place{e, n.Edges[e].Length * geo.Meters(random.Float64())}, 10 * random.Float64()})
		}
		whole := n.Sweep(tr, sources)
		var sum Balance
		outflow := make([]float64, len(n.Edges))
		for _, s := range sources {
			one := n.Sweep(tr, []Source{s})
			sum.Released, sum.Settled, sum.Held, sum.Left = sum.Released+one.Released, sum.Settled+one.Settled, sum.Held+one.Held, sum.Left+one.Left
			for i, v := range one.Outflow {
				outflow[i] += v
			}
			near(t, "balance of one", one.Settled+one.Held+one.Left, one.Released, 1e-12)
			s.Amount *= 2
			near(t, "of twice as much", n.Sweep(tr, []Source{s}).Left, 2*one.Left, 1e-12)
		}
		near(t, "released", whole.Released, sum.Released, 1e-12)
		near(t, "settled", whole.Settled, sum.Settled, 1e-12)
		near(t, "held", whole.Held, sum.Held, 1e-12)
		near(t, "left", whole.Left, sum.Left, 1e-12)
		for i := range outflow {
			near(t, "outflow", whole.Outflow[i], outflow[i], 1e-12)
		}
		e := random.IntN(len(n.Edges))
		less := everywhere(n, 2e-4)
		copy(less.Pass, tr.Pass)
		less.Pass[e] /= 2
		if n.Sweep(less, sources).Left > whole.Left+1e-12 {
			t.Error("more leaves where less passes")
		}
	}
}

// TestPiecesOfAReach: at the join of two pieces shares and hours agree: shares fall by the loss
// over the length, hours grow with it. A lower floor or a longer limit never shortens a reach, and
// two places reach what each reaches alone.
func TestPiecesOfAReach(t *testing.T) {
	random := rand.New(rand.NewPCG(51, 52))
	n, _ := Build(lattice(6), DefaultOptions())
	w := n.NewWalker()
	length := func(pieces []Piece) (sum geo.Meters) {
		for _, p := range pieces {
			sum += p.To - p.From
		}
		return sum
	}
	for range 40 {
		tr := everywhere(n, 3e-4)
		tr.Limit = 8
		for i := range n.Edges {
			tr.Hours = append(tr.Hours, geo.Hours(2*random.Float64()))
			tr.Slow = append(tr.Slow, tr.Hours[i]*3)
		}
		var places []Place
		for range 2 {
			e := int32(random.IntN(len(n.Edges)))
			places = append(places, Place{e, n.Edges[e].Length * geo.Meters(random.Float64())})
		}
		for _, divided := range []bool{false, true} {
			b := Bound{Floor: 0.3, Divided: divided}
			pieces := slices.Clone(n.Reach(tr, places, b, w))
			for i, p := range pieces {
				span := p.To - p.From
				if !(p.From < p.To) || p.From < 0 || p.To > n.Edges[p.Edge].Length {
					t.Fatalf("%+v", p)
				}
				near(t, "share at the end", p.ShareTo, p.ShareFrom*math.Exp(-3e-4*float64(span)), 1e-9)
				near(t, "hours at the end", p.HoursTo, float64(p.HoursFrom)+float64(tr.Hours[p.Edge])*float64(span/n.Edges[p.Edge].Length), 1e-9)
				near(t, "slow hours", p.SlowFrom, 3*float64(p.HoursFrom), 1e-9)
				if p.ShareTo < b.Floor-1e-9 || p.HoursTo > tr.Limit+1e-9 {
					t.Errorf("%+v goes too far", p)
				}
				if i > 0 {
					before := pieces[i-1]
					if before.Edge > p.Edge || before.Edge == p.Edge && before.To > p.From {
						t.Errorf("%+v after %+v", p, before)
					}
				}
			}
			all := length(pieces)
			if lower := length(n.Reach(tr, places, Bound{Floor: 0.2, Divided: divided}, w)); lower < all-1e-6 {
				t.Errorf("a lower floor reaches %v, not %v", lower, all)
			}
			longer := tr
			longer.Limit = 12
			if got := length(n.Reach(longer, places, b, w)); got < all-1e-6 {
				t.Errorf("a longer limit reaches %v, not %v", got, all)
			}
			for _, p := range places {
				if one := length(n.Reach(tr, []Place{p}, b, w)); one > all+1e-6 {
					t.Errorf("one place reaches %v, two %v", one, all)
				}
			}
		}
	}
}
