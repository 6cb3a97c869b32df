package trend

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/margin"
	"driftreach/internal/survey"
)

// parseOff reads "defaults 0.21; 2026Q1 0.05".
func parseOff(cell string) (*Off, error) {
	out := &Off{Looks: map[int]float64{}}
	if cell == "" {
		return out, nil
	}
	for _, item := range strings.Split(cell, "; ") {
		name, acres, _ := strings.Cut(item, " ")
		digits, minus := strings.CutPrefix(acres, "-")
		n, err := fixedPoint(digits)
		if err != nil {
			return nil, err
		}
		v := float64(n) / PerUnit
		if name == field.OffDefaults {
			if out.Defaults = v; minus {
				out.Defaults = -v
			}
			continue
		}
		q, err := survey.ParseQuarter(name)
		if err != nil || minus {
			return nil, fmt.Errorf("%q is not a quarter and its acres", item)
		}
		out.Looks[q.Ordinal()] += v * v
	}
	return out, nil
}

// offOf returns the error of measure m of section s in quarter k. For live and infested acres it is
// the one in the batch. For other acres it is that of infested acres, scaled by the ratio of their
// P10 to P90 ranges. nil where unknown.
func (s *Section) offOf(k int, m Measure) *Off {
	switch {
	case !m.Chained() || s.Offs[k] == nil:
		return nil
	case m == Live:
		return s.Offs[k][offLive]
	case m == Infested:
		return s.Offs[k][offInfested]
	}
	of := s.Offs[k][offInfested]
	p10, p90, ok := s.Figures[k].Band(m)
	low, high, known := s.Figures[k].Band(relativeTo)
	if !ok || !known || high <= low {
		if s.Figures[k][m] == 0 || s.Figures[k][relativeTo] == 0 {
			return &Off{}
		}
		return of
	}
	times := (p90 - p10) / (high - low)
	out := &Off{Defaults: times * of.Defaults, Looks: map[int]float64{}}
	for q, v := range of.Looks {
		out.Looks[q] = times * times * v
	}
	return out
}

// doubt is half of the P10 to P90 range of the change from the first look to the last, on the
// ground known at the end. ok is false where a batch does not give the errors of its acres.
//
// Errors common to both quarters cancel: those of the defaults, for as many acres as rest on them
// in both, and those of measurements made before the first look and not repeated. A repeated
// measurement and the one it replaced have independent errors. Ground first surveyed between the
// two looks has the error of its first survey instead, in proportion to its acres; this is the most
// it can be.
func (h *History) doubt(s *Section, m Measure, t Trend) (half float64, ok bool) {
	begin, end := t.First.Ordinal()-h.Quarters[0].Ordinal(), t.Last.Ordinal()-h.Quarters[0].Ordinal()
	a, b := s.offOf(begin, m), s.offOf(end, m)
	if a == nil || b == nil {
		return 0, false
	}
	square := (b.Defaults - a.Defaults) * (b.Defaults - a.Defaults)
	if h.apartBetween(begin, end) {
		return margin.Tenth * math.Sqrt(square+a.sum()+b.sum()), true
	}
	both := map[int]bool{}
	for _, off := range []*Off{a, b} {
		for q := range off.Looks {
			both[q] = true
		}
	}
	for _, q := range slices.Sorted(maps.Keys(both)) {
		switch {
		case q <= t.First.Ordinal():
			square += math.Abs(a.Looks[q] - b.Looks[q])
		case q == t.Last.Ordinal():
			square += b.Looks[q] * (1 - s.firstShare(end))
		default:
			square += b.Looks[q]
		}
	}
	for k := begin + 1; k < end; k++ {
		if share := s.firstShare(k); share > 0 {
			if on := s.offOf(k, m); on != nil {
				square += share * on.Looks[h.Quarters[k].Ordinal()]
			}
		}
	}
	return margin.Tenth * math.Sqrt(square), true
}

// firstShare is the share of the acres measured in quarter k that is on ground first surveyed then.
func (s *Section) firstShare(k int) float64 {
	f := s.Figures[k]
	if f == nil || f[FirstLookedAt] == Blank || f[FirstLookedAt] <= 0 {
		return 0
	}
	own := f[Infested] - max(0, f[Carried])
	return min(1, float64(f[FirstLookedAt])/float64(max(own, f[FirstLookedAt])))
}

// sum is the total variance of measurements.
func (o *Off) sum() float64 {
	sum := 0.0
	for _, q := range slices.Sorted(maps.Keys(o.Looks)) {
		sum += o.Looks[q]
	}
	return sum
}

func (h *History) apartBetween(begin, end int) bool {
	for k := begin + 1; k <= end; k++ {
		if h.Apart[k] {
			return true
		}
	}
	return false
}
