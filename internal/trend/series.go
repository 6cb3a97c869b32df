package trend

import (
	"slices"

	"driftreach/internal/field"
)

// DefaultRules returns the defaults named on each field.
func DefaultRules() Rules { return Rules{Correlation: 0.5} }

// The directions.
const (
	Rising  Direction = "rising"
	Falling Direction = "falling"
	NoTrend Direction = "no trend shown"
	TooFew  Direction = "too few to tell"
)

// The names of the methods.
const (
	methodPlain    = "Mann-Kendall"
	MethodSeasonal = "Seasonal Kendall"
)

// Trend returns the trend of one measure of section i.
func (h *History) Trend(i int, m Measure) Trend { return h.Trends[i*levels+int(m)] }

// Whole returns the history of the whole area alone, without its streams and units.
func (h *History) Whole() *History {
	out := *h
	if len(h.Sections) > 0 {
		out.Sections, out.Trends = slices.Clone(h.Sections[:1]), slices.Clone(h.Trends[:levels])
	}
	return &out
}

// judge fills in Trends: every measure of every section.
func (h *History) judge(rules Rules) {
	h.Trends = make([]Trend, len(h.Sections)*levels)
	kept := memory{}
	for i := range h.Sections {
		for _, m := range Measures() {
			h.Trends[i*levels+int(m)] = h.trendOf(i, m, rules, kept)
		}
	}
	for _, m := range Measures() {
		h.together(m)
	}
	for k := range h.Trends {
		h.Trends[k].Direction = h.Trends[k].direction()
	}
}

// together adjusts the tests of one measure for the number of streams and units. The total is a
// single test.
func (h *History) together(m Measure) {
	var at []int
	var p []float64
	for i := range h.Sections {
		k := i*levels + int(m)
		h.Trends[k].Adjusted = h.Trends[k].Test.P
		if h.Sections[i].Scope != field.ScopeTotal && h.Trends[k].Test.N > 0 {
			at, p = append(at, k), append(p, h.Trends[k].Test.P)
		}
	}
	for n, adjusted := range Adjusted(p) {
		h.Trends[at[n]].Adjusted, h.Trends[at[n]].Tests = adjusted, len(p)
	}
}

// trendOf returns the trend of one measure of section i, except for its direction. The values are
// those of Chain; for reach, those since it was last made with other files or settings. The slope
// is Theil-Sen's on the times of Years. When the values span five years or more, slope and test
// compare only equal quarters (Seasonal Kendall), so that seasonal rise and fall is not a trend.
// Quarters without a value leave a gap in time.
func (h *History) trendOf(i int, m Measure, rules Rules, kept memory) Trend {
	s := &h.Sections[i]
	t := Trend{Scope: s.Scope, Name: s.Name, UnitID: s.UnitID, Measure: m}
	chain, ages := h.Chain(i, m), h.ground(s.Ages, h.firstSeen(i))
	if !m.Chained() {
		ages = h.ground(h.Sections[0].Ages, make([]float64, len(chain))) // reach comes from stands anywhere
	}
	var c compared
	first := 0
	if m == ReachAtRisk {
		first = h.LastBreak()
	} else {
		first, t.Corrected = s.Unknown, s.Corrected
	}
	if first > 0 {
		t.Since = h.Quarters[first]
	}
	for k, q := range h.Quarters {
		if k < first || chain[k] == Blank || ages[k] == nil {
			continue
		}
		if t.Quarters == 0 {
			t.First, t.Begin, t.Mapped[0] = q, chain[k], s.Figures[k][m]
		}
		t.Last, t.End, t.Mapped[1] = q, chain[k], s.Figures[k][m]
		t.Quarters++
		c.take(Sample{Time: Years(q), Value: float64(chain[k]) / PerUnit}, int(q.Number), ages[k])
	}
	if t.Quarters == 0 {
		return t
	}
	span := t.Last.Ordinal() - t.First.Ordinal() + 1
	t.Missing = span - t.Quarters
	t.Doubt, t.DoubtKnown = h.doubt(s, m, t)
	c.test(&t, span >= seasonalSpan, rules, kept)
	return t
}

// LastBreak returns the index of the last quarter whose reach cannot be compared with earlier
// reach, 0 for none.
func (h *History) LastBreak() int {
	for k := len(h.Breaks) - 1; k > 0; k-- {
		if h.Breaks[k] {
			return k
		}
	}
	return 0
}

// direction returns the direction that the test shows.
func (t *Trend) direction() Direction {
	switch {
	case t.Quarters < Fewest || t.Test.LeastP > Alpha:
		return TooFew
	case t.Adjusted > Alpha || t.withinDoubt():
		return NoTrend
	case t.Test.S > 0:
		return Rising
	}
	return Falling
}

// Method returns the name of the test; blank when there was none.
func (t Trend) Method() string {
	switch {
	case t.Test.N == 0:
		return ""
	case t.Seasonal:
		return MethodSeasonal
	}
	return methodPlain
}
