package stand

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/survey"
)

// crowd is one stand of n points, some of them large, with the usual density: on average each
// overlaps two others.
func crowd(rng *rand.Rand, n int) []survey.Record {
	middle := places["mid north"]
	side := 4 * math.Sqrt(float64(n))
	records := make([]survey.Record, n)
	for i := range records {
		records[i] = record(fmt.Sprintf("r%05d", i), middle, side*rng.Float64(), side*rng.Float64())
		records[i].PatchArea = 2
		if i%7 == 0 {
			records[i].PatchArea = geo.SquareMeters(60 * rng.Float64())
		}
	}
	return records
}

// drawnIn is a star-shaped patch, which may cross itself, somewhere among n points.
func drawnIn(rng *rand.Rand, n int) survey.Record {
	side := 4 * math.Sqrt(float64(n))
	x, y, size := side*rng.Float64(), side*rng.Float64(), 1+0.3*side*rng.Float64()
	r := record("s", places["mid north"], x, y)
	ring := orb.Ring{}
	for range 5 + rng.IntN(10) {
		ring = append(ring, orb.Point{x + size*(rng.Float64()-0.5), y + size*(rng.Float64()-0.5)})
	}
	r.Outline = earth.NewFrame(places["mid north"]).Unproject(orb.MultiPolygon{{append(ring, ring[0])}})
	return r
}

// TestPatchNeverShrinksAStand: any patch drawn in a stand of points makes neither gross nor
// infested acres smaller.
func TestPatchNeverShrinksAStand(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 1))
	for n := range 8 {
		records := crowd(rng, 3+rng.IntN(50))
		members := make([]int32, len(records)+1)
		for i := range members {
			members[i] = int32(i)
		}
		records = append(records, drawnIn(rng, len(records)))
		without, with := Build(records, members[:len(records)-1], DefaultSettings()), Build(records, members, DefaultSettings())
		// a square millimetre of rounding
		if with.Gross < without.Gross-1e-6 || with.Infested < without.Infested-1e-6 {
			t.Errorf("%d: gross %.6f and infested %.6f m2, without the patch %.6f and %.6f", n, with.Gross, with.Infested, without.Gross, without.Infested)
		}
	}
}

func BenchmarkPatchAmongPoints(b *testing.B) {
	rng := rand.New(rand.NewPCG(15, 2))
	for _, n := range []int{100, 1000, 4000, 10} {
		records := append(crowd(rng, n), drawnIn(rng, 25), drawnIn(rng, 400))
		members := make([]int32, len(records))
		for i := range members {
			members[i] = int32(i)
		}
		for _, with := range []struct {
			name string
			of   []int32
		}{{"points", members[:n]}, {"with a patch", members[:n+1]}, {"with a large one", members[:n+2]}} {
			of := with.of
			b.Run(fmt.Sprintf("%d %s", n, with.name), func(b *testing.B) {
				b.ReportAllocs()
				for range b.N {
					Build(records, of, DefaultSettings())
				}
			})
		}
	}
}
