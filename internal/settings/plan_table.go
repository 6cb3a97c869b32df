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
	Factors       map[string]float64 `toml:"factors" json:"factors"` // their word for access or method
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

// The words of settings that are on or off.
const (
	yes = "yes"
	no  = "no"
)

// defaultPlan is the table at its defaults.
func defaultPlan() PlanSettings {
	s := plan.DefaultSettings()
	return PlanSettings{
		Quarters: s.Quarters, Factors: map[string]float64{}, FollowUpFirst: yes, OutliersFirst: no, Block: float64(s.Block),
		SiteDistance: float64(s.SiteDistance), LookFirst: s.LookFirst, Efficacy: s.Efficacy, Regrowth: s.Regrowth, Growth: s.Growth, Labour: s.Labour,
	}
}

// cloned returns the table with no storage shared with it.
func (s PlanSettings) cloned() PlanSettings {
	s.Labour, s.Factors = slices.Clone(s.Labour), maps.Clone(s.Factors)
	return s
}

// stage is the table as the plan takes it.
func (s PlanSettings) stage() plan.Settings {
	return plan.Settings{
		Budget: s.Budget, Unit: s.Unit, Quarters: s.Quarters, SetUp: s.SetUp, PerAcre: s.PerAcre,
		FollowUpFirst: s.FollowUpFirst == yes, OutliersFirst: s.OutliersFirst == yes, Block: geo.Acres(s.Block),
		SiteDistance: geo.Meters(s.SiteDistance), LookFirst: s.LookFirst, Efficacy: s.Efficacy, Regrowth: s.Regrowth, Growth: s.Growth, Labour: s.Labour,
	}
}

// factors are the factors by their words in small letters; of two of one spelling the
// larger.
func (s PlanSettings) factors() map[string]float64 {
	out := make(map[string]float64, len(s.Factors))
	for word, f := range s.Factors { // into a map, by the larger
		word = strings.ToLower(strings.TrimSpace(word))
		out[word] = max(out[word], f)
	}
	return out
}

// WritePlan writes the budget and the quarters of a plan as a table of a settings file.
func WritePlan(w io.Writer, s PlanSettings) error {
	_, err := fmt.Fprintf(w, "\n# What a quarter has, in acres, and how many are planned.\n[plan]\nbudget = %s\nquarters = %d\n", Number(s.Budget), s.Quarters)
	return err
}

// mostFactor bounds a factor on costs. Our choice: work by helicopter at a hundred times
// the price of a truck is beyond any that is told of.
const mostFactor = 1000

// checkFactors returns what is wrong with the table of factors.
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

// yours is the source of what has no default of ours.
const yours = "yours: prices and budgets have no default"

var planTable = []Setting{
	{budgetKey, "", Practice, "what each coming quarter has for first treatments and follow-up, in acres or, with costs, in their unit; 0 makes no plan", yours, within(0, 1e12),
		func(s *Settings) any { return &s.Plan.Budget }},
	{"plan.unit", "", Practice, "what budget and costs are counted in, for people: a currency or hours; blank for acres, or for costs without a name", yours, inWordsOrBlank(),
		func(s *Settings) any { return &s.Plan.Unit }},
	{"plan.quarters", "quarters", Assumed, "how many coming quarters are planned, each with the same budget",
		"our choice: the next one, which is decided now", within(1, 40),
		func(s *Settings) any { return &s.Plan.Quarters }},
	{"plan.set_up_cost", "", Practice, "what it costs to come to a site with people and machines, once a quarter", yours, within(0, 1e12),
		func(s *Settings) any { return &s.Plan.SetUp }},
	{"plan.cost_per_acre", "", Practice, "what treating an infested acre for the first time costs; where it and set_up_cost are 0 an acre costs 1", yours, within(0, 1e12),
		func(s *Settings) any { return &s.Plan.PerAcre }},
	{"plan.factor_column", "", Practice, "column of the survey points, such as access, whose words plan.factors turns into factors on cost_per_acre; blank for none", yours, inWordsOrBlank(),
		func(s *Settings) any { return &s.Plan.FactorColumn }},
	{"plan.follow_up_first", "", Practice, "follow-up that is due is paid for before first treatments",
		"common practice: what regrows undone loses what was paid for", oneOf(yes, no),
		func(s *Settings) any { return &s.Plan.FollowUpFirst }},
	{"plan.outliers_first", "", Practice, "isolated stands that are new in the chain come before other first treatments, with what must precede them",
		"common practice among programmes that hold an edge: nothing comes first unless it is asked for", oneOf(yes, no),
		func(s *Settings) any { return &s.Plan.OutliersFirst }},
	{"plan.block_acres", "ac", Assumed, "stands with more to treat than this are planned in blocks of at most this size, from the upper end down",
		"our choice: a few weeks of a crew", above(0, 1e6),
		func(s *Settings) any { return &s.Plan.Block }},
	{"plan.site_distance_m", "m", Assumed, "stands this close or closer are one site, which is set up once",
		"our choice: what people and machines reach from where they stand", within(0, 100000),
		func(s *Settings) any { return &s.Plan.SiteDistance }},
	{"plan.look_first_quarters", "quarters", Assumed, "a stand that nobody saw for this many quarters is looked at before it is planned",
		"our choice: a year, in which a stand may grow, be flooded away or be treated by its owner", within(1, 400),
		func(s *Settings) any { return &s.Plan.LookFirst }},
	{"plan.efficacy", "share", Assumed, "share of a stand's exposure that treatment takes away at once",
		"our choice: all of it, so that what a plan takes away is the exposure of order.csv", within(0, 1),
		func(s *Settings) any { return &s.Plan.Efficacy }},
	{"plan.regrowth", "share", Assumed, "share of what was taken away that is back a year later, within the planned quarters",
		"our choice: none, since follow-up is planned for", within(0, 1),
		func(s *Settings) any { return &s.Plan.Regrowth }},
	{"plan.growth", "share", Assumed, "share by which the exposure of an untreated stand grows in a year",
		"our choice: none; a programme's own rate belongs here", within(0, 10),
		func(s *Settings) any { return &s.Plan.Growth }},
	{"plan.follow_up_labour", "share", Published, "labour of the years after the first treatment, as shares of the first year's; none after the last",
		"Arundo: A Landowner Handbook, comparison of treatment methods, page 1, spraying alone: 84, 7, 3 and, in year 5, 2 % of ten years' labour; year 4 between them", list(1, 10, within(0, 1)),
		func(s *Settings) any { return &s.Plan.Labour }},
}

// budgetKey is the setting without which there is no plan.
const budgetKey = "plan.budget"
