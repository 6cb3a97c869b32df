package settings

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/internal/plan"
)

// PlanSettings is the [plan] table.
type PlanSettings struct {
	Budget        float64            `toml:"budget" json:"budget"`
	Unit          string             `toml:"unit" json:"unit"`
	Quarters      int                `toml:"quarters" json:"quarters"`
	SetUp         float64            `toml:"set_up_cost" json:"set_up_cost"`
	PerAcre       float64            `toml:"cost_per_acre" json:"cost_per_acre"`
	FactorColumn  string             `toml:"factor_column" json:"factor_column"`
	Factors       map[string]float64 `toml:"factors" json:"factors"` // the user's word for access or method -> cost factor
	FollowUpFirst string             `toml:"follow_up_first" json:"follow_up_first"`
	OutliersFirst string             `toml:"outliers_first" json:"outliers_first"`
	Block         float64            `toml:"block_acres" json:"block_acres"`
	SiteDistance  float64            `toml:"site_distance_m" json:"site_distance_m"`
	LookFirst     int                `toml:"look_first_quarters" json:"look_first_quarters"`
	Efficacy      float64            `toml:"efficacy" json:"efficacy"`
	Regrowth      float64            `toml:"regrowth" json:"regrowth"`
	Growth        float64            `toml:"growth" json:"growth"`
	Labour        []float64          `toml:"follow_up_labour" json:"follow_up_labour"`
}

// defaultPlan returns the table with its defaults.
func defaultPlan() PlanSettings {
	s := plan.DefaultSettings()
	return PlanSettings{
		Quarters: s.Quarters, Factors: map[string]float64{}, FollowUpFirst: yes, OutliersFirst: no, Block: float64(s.Block),
		SiteDistance: float64(s.SiteDistance), LookFirst: s.LookFirst, Efficacy: float64(s.Efficacy), Regrowth: float64(s.Regrowth), Growth: float64(s.Growth),
		Labour: numbers(s.Labour),
	}
}

// cloned returns a deep copy.
func (s PlanSettings) cloned() PlanSettings {
	s.Labour, s.Factors = slices.Clone(s.Labour), maps.Clone(s.Factors)
	return s
}

// stage converts the table for the plan.
func (s PlanSettings) stage() plan.Settings {
	return plan.Settings{
		Budget: plan.Cost(s.Budget), Unit: s.Unit, Quarters: s.Quarters, SetUp: plan.Cost(s.SetUp), PerAcre: plan.CostPerAcre(s.PerAcre),
		FollowUpFirst: s.FollowUpFirst == yes, OutliersFirst: s.OutliersFirst == yes, Block: geo.Acres(s.Block),
		SiteDistance: geo.Meters(s.SiteDistance), LookFirst: s.LookFirst,
		Efficacy: geo.Share(s.Efficacy), Regrowth: geo.Share(s.Regrowth), Growth: plan.PerYear(s.Growth), Labour: inUnit[geo.Share](s.Labour),
	}
}

// factors returns the factors with their words in lower case. If two words are then equal, the larger
// factor counts.
func (s PlanSettings) factors() map[string]float64 {
	out := make(map[string]float64, len(s.Factors))
	for word, f := range s.Factors { // the order does not matter: the larger counts
		word = strings.ToLower(strings.TrimSpace(word))
		out[word] = max(out[word], f)
	}
	return out
}

// WritePlan writes a plan's budget and number of quarters as a table of a settings file.
func WritePlan(w io.Writer, s PlanSettings) error {
	_, err := fmt.Fprintf(w, "\n# What a quarter has, in acres, and how many are planned.\n[plan]\nbudget = %s\nquarters = %d\n", Number(s.Budget), s.Quarters)
	return err
}

// mostFactor is the largest cost factor. Our choice, far above any that is reported: not even work by
// helicopter costs a hundred times as much as work from a truck.
const mostFactor = 1000

// checkFactors checks the table of factors.
func (s PlanSettings) checkFactors(where string) error {
	for _, word := range slices.Sorted(maps.Keys(s.Factors)) {
		if f := s.Factors[word]; !(f > 0 && f <= mostFactor) || word == "" {
			return &Error{
				Where: where, Problem: "plan.factors." + tomlText(word) + " cannot be " + Number(f),
				Remedy: "write a word of the column of access or method, and a factor above 0, up to 1000, as in boat = 2.5",
			}
		}
	}
	return nil
}
