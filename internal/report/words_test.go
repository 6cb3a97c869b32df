package report

import (
	"strings"
	"testing"

	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// TestGoalReachedExactly: a line that leads exactly to the goal meets it, the whole range counted, and
// one that leads to it from below only at its low end is too close to tell; by hand, from 10 acres, 9 to
// 11, within 4 years.
func TestGoalReachedExactly(t *testing.T) {
	p := Programme{GoalAcres: 5, GoalYear: 2030}
	for change, want := range map[float64]string{
		-6: "on the way to it. A straight line from here leads to 4.00.", -5.5: "too close to tell", -4.5: "too close to tell", -4: "too close to tell whether it will be met. A straight line from here leads to 6.00.",
		-3.5: "not falling fast enough", -20: "leads to 0.",
	} {
		if got := p.aheadWords(9, 11, 10, change); !strings.Contains(got, want) {
			t.Errorf("%v acres: %q, want %q", change, got, want)
		}
	}
	if got := (Programme{GoalAcres: 5}).goalWords(survey.Quarter{Year: 2026, Number: 1}, &trend.Figures{}, trend.Trend{}); got != "" {
		t.Errorf("without a year: %q", got)
	}
}

// TestEverMappedInWords: one stage is told as well as several, and none is told as nothing; by hand.
func TestEverMappedInWords(t *testing.T) {
	row := func(stage string, stands int, acres int64) result.EverRow {
		return result.EverRow{Quarter: "2026Q1", Stage: stage, Stands: stands, Acres: fixed(acres)}
	}
	for want, rows := range map[string][]result.EverRow{
		"Nothing was ever mapped.":                                          {row("live", 0, 0), row("treated", 0, 0), row("ever_mapped", 0, 0)},
		"Of 12.00 acres ever mapped, in 1 stand: 12.00 live.":               {row("live", 1, 12e8), row("treated", 0, 0), row("ever_mapped", 1, 12e8)},
		"Of 12.00 acres ever mapped, in 3 stands: 9.00 live, 3.00 treated.": {row("live", 2, 9e8), row("treated", 1, 3e8), row("ever_mapped", 3, 12e8)},
	} {
		c := &composer{run: &result.Run{}, ever: rows}
		note, grid := c.everMapped()
		if note != want || len(grid.Rows) == 0 {
			t.Errorf("%q, want %q; %d rows", note, want, len(grid.Rows))
		}
	}
}

func TestNobodyToWarn(t *testing.T) {
	for n, want := range map[int]string{
		0: "No planned work is still to come.",
		1: "The one planned work is not near a live stand, nor above clean water.",
		2: "None of the 2 planned works is near a live stand or above clean water.",
	} {
		if got := nobodyToWarn(n); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}
