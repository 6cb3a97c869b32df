package lineage

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// BenchmarkQuarterToQuarter follows stands of about twenty points from one quarter to the next,
// with surveyed ground: as many stands are known as mapped. The time for each stand should not grow
// with their number.
func BenchmarkQuarterToQuarter(b *testing.B) {
	for _, n := range []int{1000, 10_000, 45_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			dice := rand.New(rand.NewPCG(1, 1))
			side := int(math.Sqrt(float64(n)))
			var plants []plant
			for k := range n {
				plants = append(plants, patch(120*float64(k%side), 120*float64(k/side), 4, 5)...)
			}
			q := survey.Quarter{Year: 2026, Number: 2}
			before := knownOf(b, records(scatter(dice, plants, 3)...))
			found := records(scatter(dice, plants, 3)...)
			stands, _, err := stand.Map(found, q, stand.DefaultSettings(), 2)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				l := Trace(before, Now{Quarter: q, Stands: stands, Records: found}, Evidence{}, DefaultSettings(), 2)
				if len(l.Links) < n*9/10 {
					b.Fatalf("%d links of %d stands", len(l.Links), n)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "us/stand")
		})
	}
}
