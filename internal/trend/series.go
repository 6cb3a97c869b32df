package trend

import "driftreach/internal/survey"

const (
	// Fewest is the number of quarters below which there is no verdict. [P] exact
	// table of Kendall's S: with 4 values the least two-sided p is 0.083.
	Fewest = 5

	// Alpha is the p at or below which there is a trend. [C]
	Alpha = 0.05

	// seasonalSpan is the number of quarters from first to last at which only
	// equal quarters are compared: five years. Our choice: from there on comparing
	// a fifth of the pairs finds what all of them find (scripts/verdicts), so that no
	// verdict is lost on the way.
	seasonalSpan = 20
)

// Rules are what a trend is judged by.
type Rules struct {
	// Correlation is that of neighbouring quarters that a test allows for, 0 up to
	// below 1. Default 0.5, assumed.
	Correlation float64
}

// DefaultRules returns the defaults named on each field.
func DefaultRules() Rules { return Rules{Correlation: 0.5} }

// Direction is what a series does.
type Direction string

// The directions.
const (
	Rising  Direction = "rising"
	Falling Direction = "falling"
	NoTrend Direction = "no trend shown"
	TooFew  Direction = "too few to tell"
)

// The names of the methods.
const (
	MethodPlain    = "Mann-Kendall"
	MethodSeasonal = "Seasonal Kendall"
)

// Trend is the verdict on one measure of one section, and what it rests on.
type Trend struct {
	Scope, Name string
	UnitID      string
	Measure     Measure
	Quarters    int            // somebody looked in
	Missing     int            // from First to Last in which nobody did
	First, Last survey.Quarter // somebody looked in
	Since       survey.Quarter // of reach when it was last made otherwise than before, of acres when corrections last took back a share that is not known: where its values begin; zero for never
	Corrected   []string       // stands whose changes corrections took back, in its section
	Begin, End  int64          // the values there, in units of 10^-Decimals: on the ground known at the end
	Mapped      [2]int64       // what was mapped there, on whatever ground was looked at by then
	Seasonal    bool           // only equal quarters were compared
	Slope       float64        // units per year; 0 below two values
	Intercept   float64        // of the line of that slope, at the year 0
	Correlation float64        // of neighbouring quarters, allowed for
	Test        Test           // zero below Fewest quarters
	Tests       int            // made side by side that Adjusted answers for; 0 for the total
	Adjusted    float64        // P among them
	Doubt       float64        // half of P10 to P90 of the change from First to Last
	DoubtKnown  bool           // the batches have it
	Direction   Direction
}

// Trend returns the trend of one measure of section i.
func (h *History) Trend(i int, m Measure) Trend { return h.Trends[i*levels+int(m)] }

// judge fills in Trends, measure by measure of every section.
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

// together adjusts a measure's tests of streams and units for being many. The
// total is one test of its own.
func (h *History) together(m Measure) {
	var at []int
	var p []float64
	for i := range h.Sections {
		k := i*levels + int(m)
		h.Trends[k].Adjusted = h.Trends[k].Test.P
		if h.Sections[i].Scope != scopes[0] && h.Trends[k].Test.N > 0 {
			at, p = append(at, k), append(p, h.Trends[k].Test.P)
		}
	}
	for n, adjusted := range Adjusted(p) {
		h.Trends[at[n]].Adjusted, h.Trends[at[n]].Tests = adjusted, len(p)
	}
}

// trendOf returns the trend of one measure of section i but for its direction. The
// values are those of Chain, of reach those since it was last made otherwise. The slope is Theil-Sen's on the times of Years. When
// they span five years or more, slope and test compare equal quarters only (Seasonal
// Kendall): a season's own rise and fall is then no trend. Quarters without a value
// keep their place in time and count for nothing.
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

// LastBreak returns the index of the last quarter whose reach does not compare with
// that before, 0 for none.
func (h *History) LastBreak() int {
	for k := len(h.Breaks) - 1; k > 0; k-- {
		if h.Breaks[k] {
			return k
		}
	}
	return 0
}

// direction tells what the test shows.
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
	return MethodPlain
}
