package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// grown returns a random network of n lines of 2 to 20 vertices, about one line per square
// kilometre, as in NHDPlus: basins of 2000 lines that grow upstream from one outlet each, every
// twentieth line a braid beside another.
func grown(n int, named bool) []Line {
	r := rand.New(rand.NewPCG(1, 2))
	lines := make([]Line, 0, n)
	var heads, tails []orb.Point
	const basin = 2000
	for len(lines) < n {
		k := len(lines) % basin
		if k == 0 {
			at := len(lines) / basin
			heads, tails = heads[:0], tails[:0]
			heads = append(heads, orb.Point{-100 + float64(at%40)*0.6, 30 + float64(at/40)*0.6})
			tails = append(tails, orb.Point{heads[0][0], heads[0][1] - 0.01})
		}
		i := r.IntN(len(heads))
		at := heads[max(0, len(heads)-1-r.IntN(150))]
		head := orb.Point{at[0] + (r.Float64()-0.5)*0.05, at[1] + r.Float64()*0.02}
		if k%20 == 19 {
			at, head = tails[i], heads[i]
		} else {
			heads, tails = append(heads, head), append(tails, at)
		}
		lines = append(lines, wiggle(fmt.Sprintf("L%07d", len(lines)), head, at, 2+r.IntN(19), r))
	}
	if named {
		for i := range lines {
			p := lines[i].Path
			lines[i].From, lines[i].To = fmt.Sprint(p[0]), fmt.Sprint(p[len(p)-1])
		}
	}
	return lines
}

// wiggle returns a line between two places with small random bends.
func wiggle(name string, head, tail orb.Point, vertices int, r *rand.Rand) Line {
	path := make(orb.LineString, vertices)
	for i := range path {
		t := float64(i) / float64(vertices-1)
		path[i] = orb.Point{head[0] + t*(tail[0]-head[0]), head[1] + t*(tail[1]-head[1])}
		if i > 0 && i < vertices-1 {
			path[i][0] += (r.Float64() - 0.5) * 0.0004
			path[i][1] += (r.Float64() - 0.5) * 0.0004
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
				lines = append(lines, plain(fmt.Sprintf("e%04d-%04d", i, j), at(i, j), at(i+1, j)))
			}
			if j+1 < side {
				lines = append(lines, plain(fmt.Sprintf("s%04d-%04d", i, j), at(i, j), at(i, j+1)))
			}
		}
	}
	return lines
}

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
