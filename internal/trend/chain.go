package trend

import (
	"math"

	"driftreach/internal/survey"
)

// Chain returns the values of a measure of section i by quarter, in units of 10^-Decimals, Blank
// where the batch does not have it. A value is the last level minus the changes since, each between
// the last two looks at a place. So the series is on the ground known at the end: ground first
// surveyed on the way, and restated figures, do not change it. Levels are used unchanged for
// measures that are not chained, and where a batch does not continue the one before it. Changes
// that corrections took back do not count; where the amount taken back is unknown, all earlier
// values are blank. A value that differs from 0 only by the rounding of the changes is 0.
func (h *History) Chain(i int, m Measure) []int64 {
	s := &h.Sections[i]
	figures := s.Figures
	out := make([]int64, len(figures))
	var doubt rounding
	later := -1 // the next quarter with a value
	for k := len(figures) - 1; k >= 0; k-- {
		switch f := figures[k]; {
		case f == nil || f[m] == Blank, m.Chained() && k < s.Unknown:
			out[k] = Blank
			continue
		case later < 0 || !m.Chained():
			out[k] = f[m]
		default:
			out[k] = out[later] - h.change(i, m, k, later)
			digit := lastDigit(figures[later])
			if back := s.back(later, m); back != 0 && !h.Apart[later] {
				out[k] += back
				doubt.add(digit)
			}
			doubt.add(digit)
			if doubt.covers(out[k]) {
				out[k] = 0
			}
		}
		later = k
	}
	return out
}

// back is the part of an acreage's change in quarter k that corrections took back.
func (s *Section) back(k int, m Measure) int64 {
	if s.Back == nil {
		return 0
	}
	return s.Back[k][m]
}

// mostRounded is the coarsest digit whose rounding takes a value above 0 for 0: a millionth of an
// acre, 0.004 m2. Our choice: anything larger is a real figure, however few digits it was printed
// with. Values below 0 have no such limit.
const (
	mostRounded   = PerUnit / 1_000_000
	fewestPrinted = PerUnit / 10_000 // batches print acres with four decimals or more
)

// rounding is how far rounded changes may move a sum away from 0: above it, and below.
type rounding struct{ above, below int64 }

// add counts one more change that was rounded to a digit.
func (r *rounding) add(digit int64) {
	r.above += min(digit, mostRounded)
	r.below += digit
}

func (r rounding) covers(value int64) bool { return -r.below <= value && value <= r.above }

// lastDigit returns one unit of the last digit that a batch printed, by the acreages and changes of
// one of its sections; 0 where all are 0. Each quarter has as many digits as its smallest stand needs.
func lastDigit(f *Figures) int64 {
	digit, some := int64(fewestPrinted), false
	for m := range Measure(acreages) {
		for _, v := range [2]int64{f[m], f[m.Step()]} {
			for v != Blank && v%digit != 0 {
				digit /= 10
			}
			some = some || v != Blank && v != 0
		}
	}
	if !some {
		return 0
	}
	return digit
}

// change is the change of a level from one quarter with figures to the next.
func (h *History) change(i int, m Measure, from, to int) int64 {
	f := h.Sections[i].Figures
	switch step := f[to][m.Step()]; {
	case !h.Apart[to] && step != Blank:
		return step
	case !h.Apart[to] && m == Infested && f[to][Observed] != Blank:
		again := f[to][FoundAgain]
		if again == Blank { // an earlier version counts it as new
			again = 0
		}
		return f[to][Observed] + f[to][New] + again - f[to][NotDetected]
	}
	return f[to][m] - f[from][m]
}

// withinDoubt says whether the change from first to last look is no larger than the error of the
// acreage.
func (t *Trend) withinDoubt() bool {
	return t.DoubtKnown && math.Abs(float64(t.End-t.Begin))/PerUnit <= t.Doubt
}

// Years returns the time of a quarter in years. Quarters are a quarter of a year apart, which is
// exact in binary and within 2 days of the calendar.
func Years(q survey.Quarter) float64 { return float64(q.Ordinal()) / 4 }
