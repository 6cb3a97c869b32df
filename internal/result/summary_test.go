package result

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// acre is one acre in square metres (NIST SP 811, appendix B).
const acre = 4046.8564224

// region is a run with three named lines of two rivers, one line without a name,
// stands on each and one without a stream.
func region() *Run {
	run := &Run{Quarter: survey.Quarter{Year: 2026, Number: 3}}
	for i, name := range []string{"Beta", "Alpha", "Beta", ""} {
		run.Centerlines = append(run.Centerlines, stream.Centerline{ID: fmt.Sprint(i), Name: name})
	}
	for i, line := range []int32{0, 1, 2, 3, -1} {
		run.Stands = append(run.Stands, Stand{
			Stand: stand.Stand{ID: fmt.Sprint("s", i), Isolated: i == 1, Status: survey.Status(i % 4),
				Gross: 2 * acre, Infested: geo.SquareMeters(acre * (1 + 0.00004*float64(i))), Canopy: 0.5 * acre},
			Zone:  aquatic.Membership{InZone: i != 4, Area: 0.25 * acre, Line: line},
			Drift: drift.Outcome{Released: 1, Held: 1. / 3, Left: 1. / 3, Settled: 1. / 3},
		})
	}
	run.Reaches = []drift.Reach{{Line: 0, LengthKm: 1.00004}, {Line: 2, LengthKm: 2}, {Line: 3, LengthKm: 0.5}}
	return run
}

// TestSummarizeByHand: figures of region, added by hand.
func TestSummarizeByHand(t *testing.T) {
	sums := Summarize(region())
	var got []string
	for _, s := range sums {
		got = append(got, fmt.Sprintf("%s %q stands %d isolated %d zone %d infested %d reach %d settled %d",
			s.Scope, s.Name, s.Stands, s.Isolated, s.InZone, s.Infested, s.ReachAtRisk, s.Settled))
	}
	want := []string{
		`total "" stands 5 isolated 1 zone 4 infested 50004 reach 35000 settled 1666670`,
		`waterBody "Alpha" stands 1 isolated 1 zone 1 infested 10000 reach 0 settled 333334`,
		`waterBody "Beta" stands 2 isolated 0 zone 2 infested 20001 reach 30000 settled 666668`,
		`unnamed "" stands 1 isolated 0 zone 1 infested 10001 reach 5000 settled 333334`,
		`noStream "" stands 1 isolated 0 zone 0 infested 10002 reach 0 settled 333334`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestSummaryAddsUp: on any run, each column of the total is the sum of the rows
// below and of the stands' own printed figures; the statuses add up to the
// infested acres and the books balance, all to the last digit.
func TestSummaryAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := randomRun(t)
		table := SummaryTable(run, Summarize(run))
		stands := StandTable(run)
		for k, f := range table.Fields {
			if f.Kind != Number && f.Kind != Count {
				continue
			}
			total, parts := f.Value(run, 0).Int, int64(0)
			for i := 1; i < table.Rows; i++ {
				parts += f.Value(run, i).Int
			}
			if total != parts {
				t.Errorf("%s: total %d, parts %d", f.Name, total, parts)
			}
			if own := column(stands, run, table.Fields[k].Name); own != nil && total != *own {
				t.Errorf("%s: total %d, stands %d", f.Name, total, *own)
			}
		}
		checkRows(t, Summarize(run))
	})
}

func checkRows(t *rapid.T, sums []Sum) {
	for _, s := range sums {
		if s.ByStatus[0]+s.ByStatus[1]+s.ByStatus[2]+s.ByStatus[3] != s.Infested {
			t.Errorf("%s: statuses do not add up to the infested acres", s.Name)
		}
		if s.Released != s.Settled+s.Held+s.Left || min(s.Settled, s.Held, s.Left) < 0 {
			t.Errorf("%s: released %d, settled %d, held %d, left %d", s.Name, s.Released, s.Settled, s.Held, s.Left)
		}
		if s.Canopy > s.Infested || s.Infested > s.Gross {
			t.Errorf("%s: canopy %d, infested %d, gross %d", s.Name, s.Canopy, s.Infested, s.Gross)
		}
	}
}

// column returns the sum of a stand column of that name, nil when there is none.
func column(stands Table, run *Run, name string) *int64 {
	for _, f := range stands.Fields {
		if f.Name == name && f.Kind == Number {
			sum := int64(0)
			for i := range run.Stands {
				sum += f.Value(run, i).Int
			}
			return &sum
		}
	}
	return nil
}

func randomRun(t *rapid.T) *Run {
	run := region()
	run.Stands = nil
	for i := range rapid.IntRange(0, 30).Draw(t, "stands") {
		cover := rapid.Float64Range(0, 1).Draw(t, "cover")
		infested := rapid.Float64Range(0, 1e5).Draw(t, "infested")
		released := rapid.Float64Range(0, 10).Draw(t, "released")
		held := released * rapid.Float64Range(0, 1).Draw(t, "held")
		left := (released - held) * rapid.Float64Range(0, 1).Draw(t, "left")
		run.Stands = append(run.Stands, Stand{
			Stand: stand.Stand{ID: fmt.Sprint(i), Status: survey.Status(i % 4), Gross: geo.SquareMeters(infested * 1.00001),
				Infested: geo.SquareMeters(infested), Canopy: geo.SquareMeters(infested * cover)},
			Zone:  aquatic.Membership{Line: int32(rapid.IntRange(-1, 3).Draw(t, "line"))},
			Drift: drift.Outcome{Released: released, Held: held, Left: left, Settled: released - held - left},
		})
	}
	return run
}
