package report

import (
	"strings"
	"testing"

	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// By hand, at the end of 2026Q3: two and a quarter years are left until the end of 2028, in which a
// fall of 2 acres a year removes 4.5 of 20 acres.
func TestGoalIsToldAsFarAsDataGo(t *testing.T) {
	now, err := survey.ParseQuarter("2026Q3")
	if err != nil {
		t.Fatal(err)
	}
	figures := new(trend.Figures)
	figures[trend.Live] = 20 * trend.PerUnit
	figures[measureOf(t, "live_acres_p10")], figures[measureOf(t, "live_acres_p90")] = 18*trend.PerUnit, 22*trend.PerUnit
	falling := trend.Trend{Direction: trend.Falling, Slope: -2}
	for _, c := range []struct {
		goal float64
		year int
		t    trend.Trend
		want string
	}{
		{10, 0, falling, ""},
		{10, 2028, falling, "The goal is 10.00 live acres or fewer by the end of 2028: live acres are not falling fast enough. A straight line from here leads to 15.50."},
		{18, 2028, falling, "live acres are on the way to it. A straight line from here leads to 15.50. The fall may not go on."},
		{15, 2028, falling, "it is too close to tell whether it will be met."},
		{0, 2050, falling, "live acres are on the way to it. A straight line from here leads to 0."},
		{10, 2028, trend.Trend{Direction: trend.Rising, Slope: 2}, "live acres are rising, away from it."},
		{10, 2028, trend.Trend{Direction: trend.NoTrend, Slope: -2}, "no trend shows, so nobody can say whether it will be met."},
		{10, 2028, trend.Trend{Direction: trend.TooFew}, "no trend shows, so nobody can say whether it will be met."},
		{23, 2028, trend.Trend{}, "they are fewer now, even at the top of their range. Keep looking: plants can come back."},
		{21, 2028, trend.Trend{}, "they are fewer now, but the top of their range is above it."},
		{10, 2025, falling, "by the end of 2025: it is not met."},
		{19, 2025, falling, "it is not met, but the bottom of their range is below it."},
	} {
		got := Programme{GoalAcres: c.goal, GoalYear: c.year}.goalWords(now, figures, c.t)
		if !strings.HasSuffix(got, c.want) && !strings.Contains(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%v acres by %d, %s: %q, want %q", c.goal, c.year, c.t.Direction, got, c.want)
		}
	}
	if got := (Programme{GoalYear: 2028}).goalWords(now, nil, falling); got != "" {
		t.Errorf("without figures %q", got)
	}
}
