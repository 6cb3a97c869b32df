package trend

// Measure is one figure of a batch that a trend is told of, known by its column
// in summary.csv.
type Measure int

// The measures, in the order they are told.
const (
	Gross Measure = iota
	Infested
	Canopy
	Zone
	Treated
	StandingDead
	ReachAtRisk
	measures int = iota
)

// Measures returns every measure in order.
func Measures() []Measure {
	all := make([]Measure, measures)
	for i := range all {
		all[i] = Measure(i)
	}
	return all
}

// columns are the measures' names in summary.csv and in the outputs.
var columns = [measures]string{
	"gross_acres", "infested_acres", "canopy_acres", "zone_acres", "treated_acres", "standing_dead_acres", "reach_at_risk_km",
}

// Column returns the measure's name in files.
func (m Measure) Column() string { return columns[m] }

// Label returns the measure's name for people.
func (m Measure) Label() string {
	return [measures]string{"gross", "infested", "canopy", "in the zone", "treated", "standing dead", "reach at risk"}[m]
}

// Unit returns the unit of the measure's values: acres or km.
func (m Measure) Unit() string {
	if m == ReachAtRisk {
		return "km"
	}
	return "acres"
}

// Decimals is how many decimals the figures of every measure have: those of
// acres and kilometres in the data dictionary.
const Decimals = 4

// Figures are one stream's figures of one batch, by measure, in units of
// 10^-Decimals.
type Figures [measures]int64

// value returns one figure in its unit.
func (f Figures) value(m Measure) float64 { return float64(f[m]) / 1e4 }
