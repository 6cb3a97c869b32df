package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// side is the number of cells along a basin of grown, basin the lines in it, pitch the degrees from
// one cell to the next: one line to about a square kilometre, as in NHDPlus.
const side, basin, pitch = 45, 2000, 0.01

// grown returns a random network of n lines of 2 to 20 vertices that meet at their ends only: basins
// that grow upstream from one outlet each, over a square of cells, every twentieth line a braid
// beside another.
func grown(n int, named bool) []Line {
	r := rand.New(rand.NewPCG(1, 2))
	lines := make([]Line, 0, n)
	for k := 0; len(lines) < n; k++ {
		corner := orb.Point{-100 + float64(k%40)*0.6, 30 + float64(k/40)*0.6}
		lines = appendBasin(lines, corner, min(basin, n-len(lines)), r)
	}
	if named {
		for i := range lines {
			p := lines[i].Path
			lines[i].From, lines[i].To = fmt.Sprint(p[0]), fmt.Sprint(p[len(p)-1])
		}
	}
	return lines
}

// appendBasin appends a tree of n lines with its braids, the outlet at a corner. A new line starts
// in a free cell beside a random cell that the tree has.
func appendBasin(lines []Line, corner orb.Point, n int, r *rand.Rand) []Line {
	type cell struct{ x, y int }
	type step struct{ from, to cell }
	in := func(c cell) bool { return c.x >= 0 && c.y >= 0 && c.x < side && c.y < side }
	node := map[cell]orb.Point{}
	var free, laid []step
	settle := func(c cell) {
		node[c] = orb.Point{corner[0] + (float64(c.x)+0.4*r.Float64())*pitch, corner[1] + (float64(c.y)+0.4*r.Float64())*pitch}
		for _, next := range [4]cell{{c.x + 1, c.y}, {c.x - 1, c.y}, {c.x, c.y + 1}, {c.x, c.y - 1}} {
			if in(next) {
				free = append(free, step{next, c})
			}
		}
	}
	settle(cell{})
	for range n {
		at, bulge := step{}, 0.0
		if k := len(laid); k%19 == 18 {
			at, bulge, laid = laid[r.IntN(k)], pitch/10, laid[:0]
		} else {
			for at == (step{}) {
				i := r.IntN(len(free))
				if _, taken := node[free[i].from]; !taken {
					at = free[i]
				}
				free[i] = free[len(free)-1]
				free = free[:len(free)-1]
			}
			settle(at.from)
			laid = append(laid, at)
		}
		lines = append(lines, wiggle(fmt.Sprintf("L%07d", len(lines)), node[at.from], node[at.to], bulge, r))
	}
	return lines
}

// wiggle returns a line between two places with small random bends, least near its ends, and held
// off the straight way by at most bulge degrees.
func wiggle(name string, head, tail orb.Point, bulge float64, r *rand.Rand) Line {
	vertices := 2 + r.IntN(19)
	if bulge > 0 {
		vertices = 11 + r.IntN(10)
	}
	path := make(orb.LineString, vertices)
	for i := range path {
		t := float64(i) / float64(vertices-1)
		middle := 4 * t * (1 - t)
		across := orb.Point{head[1] - tail[1], tail[0] - head[0]}
		aside := middle * bulge / math.Hypot(across[0], across[1])
		for d := range path[i] {
			path[i][d] = head[d] + t*(tail[d]-head[d]) + aside*across[d] + middle*(r.Float64()-0.5)*0.0004
		}
	}
	l := plain(name, path...)
	l.Area = geo.SquareKilometers(r.Float64())
	return l
}

// everywhere returns a transport of one rate that passes everything.
func everywhere(n *Network, rate float64) Transport {
	t := Transport{Rate: make([]float64, len(n.Edges)), Pass: make([]float64, len(n.Edges))}
	for i := range t.Rate {
		t.Rate[i], t.Pass[i] = rate, 1
	}
	return t
}

// BenchmarkBuild builds networks of several sizes, by geometry and by names.
func BenchmarkBuild(b *testing.B) {
	for _, size := range []int{10_000, 100_000, 1_000_000} {
		for _, named := range []bool{false, true} {
			b.Run(fmt.Sprintf("%d/named=%v", size, named), func(b *testing.B) {
				lines := grown(size, named)
				b.ReportAllocs()
				for b.Loop() {
					o := DefaultOptions()
					o.Workers = 2
					Build(lines, o)
				}
			})
		}
	}
}

// BenchmarkSweep sweeps networks of several sizes, a source on every tenth edge.
func BenchmarkSweep(b *testing.B) {
	for _, size := range []int{10_000, 100_000, 1_000_000} {
		b.Run(fmt.Sprint(size), func(b *testing.B) {
			n, _ := Build(grown(size, false), DefaultOptions())
			t := everywhere(n, 1e-4)
			sources := make([]Source, size/10)
			for i := range sources {
				sources[i] = Source{Place{int32(i * 10), 5}, 1}
			}
			b.ReportAllocs()
			for b.Loop() {
				n.Sweep(t, sources)
			}
		})
	}
}

// BenchmarkReach is one call on a network of a hundred thousand edges; pieces
// tells how many edges that is.
func BenchmarkReach(b *testing.B) {
	n, _ := Build(grown(100_000, false), DefaultOptions())
	t := everywhere(n, math.Ln2/2300)
	w := n.NewWalker()
	places := []Place{{}, {}, {}}
	pieces := 0
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		for k := range places {
			places[k] = Place{int32((i*7919 + k*3) % len(n.Edges)), geo.Meters(5 * k)}
		}
		pieces += len(n.Reach(t, places, Bound{Floor: 0.05}, w))
		i++
	}
	b.ReportMetric(float64(pieces)/float64(b.N), "pieces/op")
}

// BenchmarkTotalsOfGrid is the worst case: one braid of 90 thousand nodes.
func BenchmarkTotalsOfGrid(b *testing.B) {
	lines := lattice(300)
	for b.Loop() {
		Build(lines, DefaultOptions())
	}
}

// lattice returns a grid of side by side nodes, each flowing east and south.
func lattice(side int) []Line {
	var lines []Line
	at := func(i, j int) orb.Point { return orb.Point{float64(i) * 0.001, -float64(j) * 0.001} }
	for i := range side {
		for j := range side {
			if i+1 < side {
				lines = append(lines, plain(latticeLine('e', i, j), at(i, j), at(i+1, j)))
			}
			if j+1 < side {
				lines = append(lines, plain(latticeLine('s', i, j), at(i, j), at(i, j+1)))
			}
		}
	}
	return lines
}

// latticeLine is the name of a line of a lattice from a node, to the east or the south.
func latticeLine(way rune, i, j int) string { return fmt.Sprintf("%c%04d-%04d", way, i, j) }

// BenchmarkBuildInOneValley builds networks of n lines that run within a metre of each other down
// one kilometre, each from a different place: thousands of ends are within the snap distance of
// other lines.
func BenchmarkBuildInOneValley(b *testing.B) {
	for _, n := range []int{1000, 4000, 16_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			lines := valley(n)
			b.ReportAllocs()
			for b.Loop() {
				o := DefaultOptions()
				Build(lines, o)
			}
		})
	}
}

// valley returns n lines within a metre of each other, from random places along a kilometre to its
// lower end.
func valley(n int) []Line {
	r := rand.New(rand.NewPCG(3, 4))
	const degree = 111320
	lines := make([]Line, n)
	for i := range lines {
		from := 1000 * r.Float64()
		at := func(y float64) orb.Point { return orb.Point{10 + r.Float64()/degree, y / degree} }
		lines[i] = plain(fmt.Sprintf("L%05d", i), at(from), at(from/2), orb.Point{10, 0})
	}
	return lines
}
