package learn

import (
	"math"
	"time"

	"driftreach/geo"
	"driftreach/internal/estimate"
)

// Labour is the labour of the years after a stand's first treatment, as a share of the first
// year's.
type Labour struct {
	Year   int // after the first: 1 for the second year
	Stands int // stands first treated that long ago, with hours recorded in their first year
	Share  estimate.Interval
}

// labour divides the hours of each year since a stand's first day of work by those of its first
// year. It uses the stands first treated at least that many years before the last look of the
// chain. Stands with the same crew and first day form a cluster.
func labour(all []history) []Labour {
	var last time.Time
	for i := range all {
		for _, s := range all[i].sights {
			if s.day.After(last) {
				last = s.day
			}
		}
	}
	var out []Labour
	for year := 1; year <= mostYears; year++ {
		var parts []estimate.Part
		for i := range all {
			h := &all[i]
			if len(h.visits) == 0 || h.visits[0].day.AddDate(year+1, 0, 0).After(last) {
				continue
			}
			if first, told := h.hours(0); told && first > 0 {
				if later, told := h.hours(year); told {
					parts = append(parts, estimate.Part{Cluster: h.visits[0].cluster(), Upper: float64(later), At: float64(first)})
				}
			}
		}
		if len(parts) == 0 {
			break
		}
		out = append(out, Labour{year, len(parts), atLeast(estimate.Ratio(parts), 0)})
	}
	return out
}

// mostYears is the largest number of years of follow-up labour in a plan.
const mostYears = 10

// hours sums the hours of work in a year since the first day; told is false if any day of work has
// no hours.
func (h *history) hours(year int) (sum geo.Hours, told bool) {
	from := h.visits[0].day
	for _, v := range h.visits {
		if !v.day.Before(from.AddDate(year, 0, 0)) && v.day.Before(from.AddDate(year+1, 0, 0)) {
			sum += v.hours
		}
	}
	return sum, !math.IsNaN(float64(sum))
}

// atLeast limits an interval to values of at least least.
func atLeast(i estimate.Interval, least float64) estimate.Interval {
	i.Low = math.Max(i.Low, least)
	return i
}
