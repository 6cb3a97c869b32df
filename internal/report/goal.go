package report

import (
	"fmt"

	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// Programme is what a programme says of itself: the head of its pages, and how many live
// acres it wants to be down to.
type Programme struct {
	Title, Name string  // blank for the page's own title, and for none
	GoalAcres   float64 // live acres at the end of GoalYear
	GoalYear    int     // 0 for no goal
}

// goalWords says whether live acres are on the way to the programme's goal, only as far
// as the data tell it: at the slope of a trend that is told, and within what the acreage
// itself may be off by; blank without a goal. now is the last quarter, f its figures.
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
		return goal + ": these are fewer now, with their whole range. " + keepLooking
	case years <= 0 && low > p.GoalAcres:
		return goal + ": it is not met."
	case live <= p.GoalAcres:
		return goal + ": these are fewer now, but their range reaches above it."
	case years <= 0:
		return goal + ": it is not met, but their range reaches below it."
	case t.Direction == trend.Rising:
		return goal + ": live acres rise, and so move away from it."
	case t.Direction != trend.Falling:
		return goal + ": it is not known whether they are on the way to it, since there is no trend to report."
	default:
		return goal + p.aheadWords(low, high, live, t.Slope*years)
	}
}

// aheadWords says where a straight line leads, change acres from now on.
func (p Programme) aheadWords(low, high, live, change float64) string {
	there := max(0, live+change)
	switch line := fmt.Sprintf(" A straight line from now on would lead to %s.", acresOf(there)); {
	case high+change <= p.GoalAcres:
		return ": they are on the way to it." + line + " Nothing says that the fall goes on."
	case low+change > p.GoalAcres:
		return ": they are not on the way to it." + line
	default:
		return ": too close to tell whether they are on the way to it." + line
	}
}

const keepLooking = "What nobody looks at can come back."
