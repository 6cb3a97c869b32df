package restated

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/earlier"
	"driftreach/internal/lineage"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// manyCorrected returns a quarter of n finds after a batch of n stands of one record each, in a row
// from south to north. A tenth of the stands were look-alikes: half of these are corrected by
// record, half by stand.
func manyCorrected(n int) (observed.Quarter, *earlier.Batch, settings.Stages) {
	s := settings.Default()
	rules, _ := s.Stages()
	q := survey.Quarter{Year: 2026, Number: 2}
	in, p := observed.Quarter{Quarter: q}, &earlier.Batch{Quarter: survey.Quarter{Year: 2026, Number: 1}}
	for i := range n {
		r := survey.Record{
			ID: fmt.Sprintf("p%06d", i), Position: orb.Point{-40, -33 + 0.001*float64(i)/10}, Detected: true, Uncertainty: 1,
			Cover: 50, StemHeight: geo.Meters(math.NaN()), PatchArea: 100, Notes: "",
		}
		in.Records.Listed, p.Records = append(in.Records.Listed, r), append(p.Records, r)
		p.From = append(p.From, p.Quarter)
		st := stand.Build(p.Records, []int32{int32(i)}, rules.Stands)
		st.ID = fmt.Sprintf("2026Q1-%06d", i)
		p.Known, p.Then = append(p.Known, lineage.Known{Stand: st, Quarter: p.Quarter}), append(p.Then, result.Then{Infested: st.Infested.Grains()})
		if i%10 == 0 {
			c := correction.Correction{File: "c.csv", Row: i, Kind: correction.Misidentified, Date: q.End()}
			if c.RecordID = r.ID; i%20 == 0 {
				c.RecordID, c.StandID = "", st.ID
			}
			in.Corrections = append(in.Corrections, c)
		}
	}
	return in, p, rules
}

// Each correction removes exactly its own record or stand and the find there: a tenth of both, in
// any order of look-up.
func TestManyCorrections(t *testing.T) {
	const n = 2000
	in, p, rules := manyCorrected(n)
	got := Apply(in, p, nil, rules)
	out := 0
	for k := range p.Known {
		if gone := p.Known[k].Out == lineage.Misidentified; gone != (k%10 == 0) {
			t.Fatalf("stand %d: out %q", k, p.Known[k].Out)
		} else if gone {
			out++
		}
	}
	if len(got.Records.Listed) != n-n/10 || out != n/10 || len(got.Corrections) != n/10 {
		t.Errorf("%d records left, %d stands out, %d corrections", len(got.Records.Listed), out, len(got.Corrections))
	}
}

// The time of a correction must not grow with the batch: ns per correction are about the same for
// ten times as many.
func BenchmarkCorrections(b *testing.B) {
	for _, n := range []int{10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var took time.Duration
			for range b.N {
				in, p, rules := manyCorrected(n)
				begin := time.Now()
				Apply(in, p, nil, rules)
				took += time.Since(begin)
			}
			b.ReportMetric(float64(took.Nanoseconds())/float64(b.N)/float64(n/10), "ns/correction")
		})
	}
}
