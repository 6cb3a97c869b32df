package trend

import "driftreach/internal/survey"

const (
	// Fewest is the number of quarters below which nothing is told. [P] exact
	// table of Kendall's S: with 4 values the least two-sided p is 0.083.
	Fewest = 5

	// Alpha is the p at or below which a trend is told. [C]
	Alpha = 0.05

	// seasonalSpan is the number of quarters from first to last at which only
	// equal quarters are compared: two years.
	seasonalSpan = 8
)

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

// Trend is what is told of one measure of one section.
type Trend struct {
	Scope, Name string
	UnitID      string
	Measure     Measure
	Quarters    int            // with a value
	Missing     int            // from First to Last without one
	First, Last survey.Quarter // with a value
	Begin, End  int64          // the values there, in units of 10^-Decimals
	Seasonal    bool           // only equal quarters were compared
	Slope       float64        // units per year; 0 below two values
	Intercept   float64        // of the line of that slope, at the year 0
	Test        Test           // zero below Fewest quarters
	Direction   Direction
}

// Trends returns the trend of every measure of every section, in order.
func (h *History) Trends() []Trend {
	all := make([]Trend, 0, len(h.Sections)*levels)
	for i := range h.Sections {
		for _, m := range Measures() {
			all = append(all, h.Trend(i, m))
		}
	}
	return all
}

// Trend returns the trend of one measure of section i. The slope is Theil-Sen's
// on the times of Years. When the quarters with a value span two years or more,
// slope and test compare equal quarters only (Seasonal Kendall): a season's own
// rise and fall is then no trend. Quarters without a value keep their place in
// time and count for nothing.
func (h *History) Trend(i int, m Measure) Trend {
	s := &h.Sections[i]
	t := Trend{Scope: s.Scope, Name: s.Name, UnitID: s.UnitID, Measure: m, Direction: TooFew}
	var all []Sample
	var seasons [4][]Sample
	for k, q := range h.Quarters {
		f := s.Figures[k]
		if f == nil {
			continue
		}
		if t.Quarters == 0 {
			t.First, t.Begin = q, f[m]
		}
		t.Last, t.End = q, f[m]
		t.Quarters++
		sample := Sample{Time: Years(q), Value: f.value(m)}
		all = append(all, sample)
		seasons[q.Number-1] = append(seasons[q.Number-1], sample)
	}
	if t.Quarters == 0 {
		return t
	}
	span := ordinal(t.Last) - ordinal(t.First) + 1
	t.Missing = span - t.Quarters
	t.Seasonal = span >= seasonalSpan
	groups := [][]Sample{all}
	if t.Seasonal {
		groups = seasons[:]
	}
	t.Slope = Slope(groups...)
	t.Intercept = Intercept(t.Slope, all)
	if t.Quarters >= Fewest {
		t.Test = SeasonalKendall(values(groups))
		t.Direction = t.Test.direction()
	}
	return t
}

// direction tells what the test shows.
func (t Test) direction() Direction {
	switch {
	case t.LeastP > Alpha:
		return TooFew
	case t.P > Alpha:
		return NoTrend
	case t.S > 0:
		return Rising
	}
	return Falling
}

func values(groups [][]Sample) [][]float64 {
	out := make([][]float64, len(groups))
	for i, samples := range groups {
		for _, s := range samples {
			out[i] = append(out[i], s.Value)
		}
	}
	return out
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
