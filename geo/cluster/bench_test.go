package cluster

import (
	"math"
	"math/rand/v2"
	"testing"
)

// alongStreams returns n points in earth-centred metres, scattered a few metres around winding
// lines.
func alongStreams(n int) []float64 {
	rng := rand.New(rand.NewPCG(1, 2))
	coords := make([]float64, 0, 3*n)
	for len(coords) < 3*n {
		lat, lon, heading := 0.7+0.02*rng.Float64(), -1.2+0.02*rng.Float64(), 6*rng.Float64()
		for range 20 {
			heading += rng.NormFloat64() / 2
			lat += 15 * math.Sin(heading) / 6371000
			lon += 15 * math.Cos(heading) / 5000000
			for range 1 + rng.IntN(3) {
				a, b := lat+10*rng.NormFloat64()/6371000, lon+10*rng.NormFloat64()/6371000
				coords = append(coords, 6371000*math.Cos(a)*math.Cos(b), 6371000*math.Cos(a)*math.Sin(b), 6371000*math.Sin(a))
			}
		}
	}
	return coords[:3*n]
}

func benchmark(b *testing.B, coords []float64) {
	b.ReportAllocs()
	for b.Loop() {
		r := run(b, coords, 3, Options{Eps: 30, MinPoints: 3, Workers: 2})
		b.ReportMetric(float64(r.Clusters), "clusters")
	}
}

func BenchmarkStreams100k(b *testing.B) { benchmark(b, alongStreams(100_000)) }
func BenchmarkStreams1M(b *testing.B)   { benchmark(b, alongStreams(1_000_000)) }
func BenchmarkPile100k(b *testing.B)    { benchmark(b, make([]float64, 300_000)) }

// BenchmarkCrowd100k: every point has thousands of neighbours.
func BenchmarkCrowd100k(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	coords := make([]float64, 300_000)
	for i := range coords {
		coords[i] = 200 * rng.Float64()
	}
	benchmark(b, coords)
}
