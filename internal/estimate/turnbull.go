package estimate

import (
	"math"
	"slices"
)

// Between is an interval-censored time: after one look and no later than the next, in (After, By].
// By is infinite where it had not come by the last look.
type Between struct {
	After, By float64
	Weight    float64 // number of such times
}

// Turnbull is the distribution of an interval-censored time.
type Turnbull struct {
	from, to []float64 // innermost intervals: (from, to]
	mass     []float64
}

// NewTurnbull returns the nonparametric maximum likelihood estimate of B. W. Turnbull, Journal of
// the Royal Statistical Society B 38 (1976), 290-295: mass on the innermost intervals, found by
// self-consistency iteration to 1e-10. Cost is times x intervals x rounds.
func NewTurnbull(times []Between) Turnbull {
	var t Turnbull
	t.innermost(times)
	if len(t.from) == 0 {
		return t
	}
	covers := make([][]int, len(times))
	total := 0.0
	for i, one := range times {
		for k := range t.from {
			if t.from[k] >= one.After && t.to[k] <= one.By {
				covers[i] = append(covers[i], k)
			}
		}
		total += one.Weight
	}
	t.mass = slices.Repeat([]float64{1 / float64(len(t.from))}, len(t.from))
	for range 20000 {
		next := make([]float64, len(t.mass))
		for i, one := range times {
			sum := 0.0
			for _, k := range covers[i] {
				sum += t.mass[k]
			}
			for _, k := range covers[i] {
				if sum > 0 {
					next[k] += one.Weight * t.mass[k] / sum / total
				}
			}
		}
		far := 0.0
		for k := range next {
			far = max(far, math.Abs(next[k]-t.mass[k]))
		}
		t.mass = next
		if far < 1e-10 {
			break
		}
	}
	return t
}

// innermost finds the intervals that can have mass: each from a lower bound to an upper bound, with
// no other bound in between.
func (t *Turnbull) innermost(times []Between) {
	type end struct {
		at    float64
		lower bool
	}
	var ends []end
	for _, one := range times {
		if one.Weight > 0 {
			ends = append(ends, end{one.After, true}, end{one.By, false})
		}
	}
	slices.SortFunc(ends, func(a, b end) int { // an interval is open at its lower end and closed at its upper end
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		case a.lower == b.lower:
			return 0
		case b.lower:
			return -1
		}
		return 1
	})
	for i := 1; i < len(ends); i++ {
		if ends[i-1].lower && !ends[i].lower {
			t.from, t.to = append(t.from, ends[i-1].at), append(t.to, ends[i].at)
		}
	}
}

// By returns the share of times that have come by a given time: the least, with all mass at the end
// of its interval, and the most, with all mass at its start. They are equal where the looks
// determine the share.
func (t *Turnbull) By(time float64) (least, most float64) {
	for k, m := range t.mass {
		if t.to[k] <= time {
			least += m
		}
		if t.from[k] < time {
			most += m
		}
	}
	return least, max(least, most)
}
