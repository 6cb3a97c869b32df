package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// stands returns 100 thousand discs in stands of 1 to 30.
func stands(low, high float64) [][]Disc {
	rng := rand.New(rand.NewPCG(1, 2))
	var out [][]Disc
	for total := 0; total < 100_000; {
		out = append(out, walk(rng, 1+rng.IntN(30), low, high))
		total += len(out[len(out)-1])
	}
	return out
}

// scattered returns n discs in a square.
func scattered(n int, width float64) []Disc {
	rng := rand.New(rand.NewPCG(1, 2))
	discs := make([]Disc, n)
	for i := range discs {
		discs[i] = Disc{orb.Point{width * rng.Float64(), width * rng.Float64()}, 11.35}
	}
	return discs
}

func BenchmarkUnionDiscs(b *testing.B) {
	for name, s := range map[string][][]Disc{
		"100k in stands": stands(11.35, 11.35), "100k small in stands": stands(1, 3),
		"one stand of 10k": {scattered(10_000, 2000)}, "pile of 10k": {scattered(10_000, 100)},
	} {
		b.Run("union "+name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, d := range s {
					UnionDiscs(d)
				}
			}
		})
		b.Run("closing "+name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, d := range s {
					CloseDiscs(d, 30)
				}
			}
		})
	}
}

func BenchmarkBuffer(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 4))
	lines := make([]orb.LineString, 10_000)
	radius := make([]geo.Meters, len(lines))
	for i := range lines {
		lines[i], radius[i] = meander(rng, 20, 0.4, 5e4), 32
	}
	for _, q := range []int{8, 32} {
		b.Run("one line", func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				Buffer(orb.MultiLineString{lines[i%len(lines)]}, 32, q)
			}
		})
		b.Run("one line by the library", func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				libraryBuffer(orb.MultiLineString{lines[i%len(lines)]}, 32, q)
			}
		})
		b.Run("10k lines dissolved", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				BufferLines(lines, radius, q, 2)
			}
		})
	}
}

func BenchmarkIntersectionArea(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 4))
	footprint := UnionDiscs(walk(rng, 25, 11.35, 11.35))
	line := orb.LineString{{-100, -20}, {-60, 10}, {-20, 0}, {20, 15}, {60, -10}, {100, 0}, {140, 30}}
	zone := Buffer(orb.MultiLineString{line}, 32, 8)
	b.ReportMetric(float64(IntersectionArea(footprint, zone)), "m2")
	for b.Loop() {
		IntersectionArea(footprint, zone)
	}
}

// BenchmarkMakeValid: rings of random corners, with about a fifth as many self-crossings as the
// square of the corners, and a long outline with one crossing.
func BenchmarkMakeValid(b *testing.B) {
	rng := rand.New(rand.NewPCG(5, 6))
	rings := map[string]orb.Ring{}
	for _, n := range []int{20, 80, 320} {
		ring := make(orb.Ring, n)
		for i := range ring {
			ring[i] = orb.Point{1000 * rng.Float64(), 1000 * rng.Float64()}
		}
		rings[fmt.Sprintf("scribble of %d", n)] = append(ring, ring[0])
	}
	long := make(orb.Ring, 50_000)
	for i := range long {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(len(long)))
		r := 1000 + 3*math.Sin(float64(i)/7)
		long[i] = orb.Point{r * c, r * s}
	}
	long[100], long[101] = long[101], long[100]
	rings["50k vertices, one crossing"] = append(long, long[0])
	for name, ring := range rings {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				MakeValid(orb.MultiPolygon{{ring}})
			}
		})
	}
}
