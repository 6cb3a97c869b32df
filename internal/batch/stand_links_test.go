package batch_test

import (
	"testing"

	"driftreach/internal/demo"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/testkit/quarter"
)

// Of two quarters of the demo, the links lead, one after the other, to every stand that
// is reached and to no other, and each has a share of at least the risk share and hours.
func TestLinksLeadAsFarAsTheReach(t *testing.T) {
	scenario := demo.Make(1)
	for _, q := range []demo.QuarterFiles{scenario.Quarters[0], scenario.Quarters[len(scenario.Quarters)-1]} {
		run := answerOf(t, q, scenario.Streams)
		n := len(run.Stands)
		if len(run.Links) == 0 || !run.Linked {
			t.Fatalf("%s: no links", q.Quarter)
		}
		near, reach := make([][]int32, n), make([][]int32, n)
		for i := range reach {
			reach[i] = run.Stands[i].Drift.Reached
		}
		for _, l := range run.Links {
			near[l.From] = append(near[l.From], l.To)
			if !(l.Share >= run.RiskShare-1e-9 && l.Share <= 1 && l.Fast >= 0 && l.Fast < 1e4) {
				t.Errorf("%s: %s to %s: share %g, hours %g", q.Quarter, run.Stands[l.From].ID, run.Stands[l.To].ID, l.Share, float64(l.Fast))
			}
		}
		all := 0
		for i := range n {
			got, want := leadsTo(near, int32(i)), leadsTo(reach, int32(i))
			all += len(run.Stands[i].Drift.Reached)
			for j := range n {
				if got[j] != want[j] {
					t.Errorf("%s: %s to %s: links lead there %v, reach %v", q.Quarter, run.Stands[i].ID, run.Stands[j].ID, got[j], want[j])
				}
			}
		}
		t.Logf("%s: %d links of %d", q.Quarter, len(run.Links), all)
		if len(run.Links) >= all {
			t.Errorf("%s: %d links of %d are not the nearest alone", q.Quarter, len(run.Links), all)
		}
	}
}

// leadsTo marks where links lead from a stand, one after the other.
func leadsTo(links [][]int32, stand int32) []bool {
	seen := make([]bool, len(links))
	for list := []int32{stand}; len(list) > 0; list = list[1:] {
		for _, to := range links[list[0]] {
			if !seen[to] {
				seen[to] = true
				list = append(list, to)
			}
		}
	}
	return seen
}

func answerOf(t *testing.T, q demo.QuarterFiles, streams []byte) *result.Run {
	t.Helper()
	when, err := survey.ParseQuarter(q.Quarter)
	if err != nil {
		t.Fatal(err)
	}
	s := settings.Default()
	s.Drift.Draws = 0
	return quarter.Answer(t, quarter.Of(when, q.Points, streams), s)
}
