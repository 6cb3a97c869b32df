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

// Off is what acres of a section may be off by: standard deviations in acres that are
// independent of each other. The nil Off is not known.
type Off struct {
	Defaults float64         // which all quarters have in common
	Looks    map[int]float64 // variance by the ordinal of the quarter that was measured in
}

// offColumns are the columns of what live and infested acres may be off by.
var offColumns = [...]string{field.LiveOffByLook, field.InfestedOffByLook}

// The places of their parts.
const (
	offLive = iota
	offInfested
	offs = len(offColumns)
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
		if name == "defaults" {
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

// offOf returns what a measure of section s may be off by in quarter k: of live and
// infested acres what the batch says, of others in proportion to infested acres, as
// their own P10 to P90 is to theirs. nil where it is not known.
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

// doubt is half of P10 to P90 of the change from the first look to the last, on the
// ground known at the end; ok is false where a batch does not tell what its acres are
// off by. What both quarters have in common drops out: the defaults, as far as as many
// acres rest on them, and what was measured before the first look and not since. What
// was measured anew, and what that took the place of, are off independently of each
// other. Ground first looked at on the way is off by its first look instead, in
// proportion to its acres, which is the most it can be.
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

// firstShare is the share of what was measured in quarter k that lies on ground first
// looked at then.
func (s *Section) firstShare(k int) float64 {
	f := s.Figures[k]
	if f == nil || f[FirstLookedAt] == Blank || f[FirstLookedAt] <= 0 {
		return 0
	}
	own := f[Infested] - max(0, f[Carried])
	return min(1, float64(f[FirstLookedAt])/float64(max(own, f[FirstLookedAt])))
}

// sum is the variance of what was measured.
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
