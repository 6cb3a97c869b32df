package trend

import (
	"math"

	"driftreach/internal/survey"
)

// Chain returns the values of a measure of section i by quarter, in units of
// 10^-Decimals, Blank where the batch does not tell of it: the last level less the
// changes since, each between the last two looks at a place. So it is on the ground
// known at the end: ground that was looked at for the first time on the way, and
// what was computed anew, change nothing. Where a batch does not go on from the one
// before it here, and for what is not chained, the levels themselves stand in.
func (h *History) Chain(i int, m Measure) []int64 {
	figures := h.Sections[i].Figures
	out := make([]int64, len(figures))
	later := -1 // the next quarter that has one
	for k := len(figures) - 1; k >= 0; k-- {
		switch f := figures[k]; {
		case f == nil || f[m] == Blank:
			out[k] = Blank
			continue
		case later < 0 || !m.Chained():
			out[k] = f[m]
		default:
			out[k] = out[later] - h.change(i, m, k, later)
		}
		later = k
	}
	return out
}

// change is that of a level from one quarter with figures to the next.
func (h *History) change(i int, m Measure, from, to int) int64 {
	f := h.Sections[i].Figures
	switch step := f[to][m.Step()]; {
	case !h.Apart[to] && step != Blank:
		return step
	case !h.Apart[to] && m == Infested && f[to][Observed] != Blank:
		again := f[to][FoundAgain]
		if again == Blank { // an earlier version counts it among the new
			again = 0
		}
		return f[to][Observed] + f[to][New] + again - f[to][NotDetected]
	}
	return f[to][m] - f[from][m]
}

// doubt is half of P10 to P90 of the change from the first look to the last, as
// the acreages of both quarters are off independently of each other; 0 where a batch
// does not tell.
func (h *History) doubt(s *Section, m Measure, t Trend) float64 {
	square := 0.0
	for k, q := range h.Quarters {
		if q != t.First && q != t.Last || s.Figures[k] == nil {
			continue
		}
		p10, p90, ok := s.Figures[k].Band(m)
		if !ok {
			return 0
		}
		square += (p90 - p10) * (p90 - p10) / 4
	}
	return math.Sqrt(square)
}

// withinDoubt says whether the change from first to last look is no larger than
// what the acreage itself may be off by.
func (t *Trend) withinDoubt() bool {
	return math.Abs(float64(t.End-t.Begin))/PerUnit <= t.Doubt && t.Doubt > 0
}

// Years returns the time of a quarter in years: quarters are a quarter of a year
// apart, which is exact in binary and within 2 days of the calendar.
func Years(q survey.Quarter) float64 { return float64(ordinal(q)) / 4 }
