package trend

import "math"

// Measure is one figure of a batch, known by its column in summary.csv.
type Measure int

// The measures a trend is told of, in the order they are told: what there is.
const (
	Gross Measure = iota
	Infested
	Canopy
	Zone
	Treated
	StandingDead
	ReachAtRisk
	levels int = iota
)

// The parts of change, blank in the first batch of a chain. They have no trend:
// they are the steps between one quarter's level and the next's, which the trend
// of infested acres sums up already, and a rank test of steps would tell of their
// size and not of the plant. Carried acres tell of the survey and not of the plant
// either.
const (
	Previous Measure = iota + Measure(levels)
	Observed
	New
	NotDetected
	Cleared
	Carried
	end
	measures = int(end)
)

// Measures returns every measure that a trend is told of, in order.
func Measures() []Measure { return from(0, levels) }

// Parts returns the parts of change, in order.
func Parts() []Measure { return from(levels, measures) }

func from(first, end int) []Measure {
	all := make([]Measure, end-first)
	for i := range all {
		all[i] = Measure(first + i)
	}
	return all
}

// columns are the measures' names in summary.csv and in the outputs.
var columns = [measures]string{
	"gross_acres", "infested_acres", "canopy_acres", "zone_acres", "treated_acres", "standing_dead_acres", "reach_at_risk_km",
	"previous_acres", "observed_change_acres", "new_acres", "not_detected_acres", "cleared_acres", "carried_acres",
}

// Column returns the measure's name in files.
func (m Measure) Column() string { return columns[m] }

// Label returns the measure's name for people.
func (m Measure) Label() string {
	return [measures]string{"gross", "infested", "canopy", "in the zone", "treated", "standing dead", "reach at risk",
		"the batch before", "observed change", "new", "not detected", "cleared", "carried"}[m]
}

// Unit returns the unit of the measure's values: acres or km.
func (m Measure) Unit() string {
	if m == ReachAtRisk {
		return "km"
	}
	return "acres"
}

// isPart says whether the measure may be blank.
func (m Measure) isPart() bool { return int(m) >= levels }

// Decimals is how many decimals the figures of every measure have: those of
// acres and kilometres in the data dictionary.
const Decimals = 4

// Blank stands for a part of change in the first batch of a chain.
const Blank int64 = math.MinInt64

// Figures are one section's figures of one batch, by measure, in units of
// 10^-Decimals.
type Figures [measures]int64

// value returns one figure in its unit.
func (f Figures) value(m Measure) float64 { return float64(f[m]) / 1e4 }

// Part returns a part of change in its unit; ok is false where it is blank.
func (f *Figures) Part(m Measure) (value float64, ok bool) {
	if f[m] == Blank {
		return 0, false
	}
	return f.value(m), true
}
