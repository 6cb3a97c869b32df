package report

import (
	"fmt"

	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// Programme is what a programme says about itself: the heading of its pages, and its goal in live
// acres.
type Programme struct {
	Title, Name string  // blank for the page's own title, and for no name
	GoalAcres   float64 // live acres at the end of GoalYear
	GoalYear    int     // 0 for no goal
}

// goalWords says whether live acres are on the way to the programme's goal, as far as the data show it.
// It uses the slope of a trend if there is one, and allows for the error of the acreage. It is blank
// without a goal. now is the last quarter, f its figures.
func (p Programme) goalWords(now survey.Quarter, f *trend.Figures, t trend.Trend) string {
	if p.GoalYear == 0 || f == nil || f[trend.Live] == trend.Blank {
		return ""
	}
	goal := fmt.Sprintf("The goal is %s live acres or fewer by the end of %d", acresOf(p.GoalAcres), p.GoalYear)
	live := acres(f, trend.Live)
	low, high, ok := f.Band(trend.Live)
	if !ok {
		low, high = live, live
	}
	switch years := float64(p.GoalYear+1) - trend.Years(now.Next()); {
	case high <= p.GoalAcres:
		return goal + ": they are fewer now, even at the top of their range. " + keepLooking
	case years <= 0 && low > p.GoalAcres:
		return goal + ": it is not met."
	case live <= p.GoalAcres:
		return goal + ": they are fewer now, but the top of their range is above it."
	case years <= 0:
		return goal + ": it is not met, but the bottom of their range is below it."
	case t.Direction == trend.Rising:
		return goal + ": live acres are rising, away from it."
	case t.Direction != trend.Falling:
		return goal + ": no trend shows, so nobody can say whether it will be met."
	default:
		return goal + p.aheadWords(low, high, live, t.Slope*years)
	}
}

// aheadWords says where a straight line leads if live acres change by change from now on.
func (p Programme) aheadWords(low, high, live, change float64) string {
	there := max(0, live+change)
	switch line := fmt.Sprintf(" A straight line from here leads to %s.", acresOf(there)); {
	case high+change <= p.GoalAcres:
		return ": live acres are on the way to it." + line + " The fall may not go on."
	case low+change > p.GoalAcres:
		return ": live acres are not falling fast enough." + line
	default:
		return ": it is too close to tell whether it will be met." + line
	}
}

const keepLooking = "Keep looking: plants can come back."
