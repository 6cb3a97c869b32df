package plan

import (
	"fmt"

	"driftreach/geo"
)

// Settings are the budget and the costs. Costs have no default.
type Settings struct {
	// Budget is the budget of each quarter, in any unit; 0 for no plan.
	Budget Cost
	// Unit is the name of the budget's unit for readers; blank for acres.
	Unit string
	// Quarters is the number of coming quarters to plan. Default 1.
	Quarters int
	// SetUp is the cost of bringing people and machines to a site, paid once a quarter.
	SetUp Cost
	// PerAcre is the cost of treating an acre for the first time. If it and SetUp are 0, an acre
	// costs 1 and the budget is in acres.
	PerAcre CostPerAcre
	// FollowUpFirst says whether due follow-up is paid for before first treatments. Default true.
	FollowUpFirst bool
	// OutliersFirst says whether young outliers are paid for before other first treatments. Default
	// false.
	OutliersFirst bool
	// Block is the largest acreage planned as one piece of work. Default 5, assumed.
	Block geo.Acres
	// SiteDistance is the largest distance between stands that share a set-up. Default 100 m,
	// assumed.
	SiteDistance geo.Meters
	// LookFirst is the number of quarters after which an unseen stand is not planned without a look.
	// Default 4, assumed.
	LookFirst int
	// Efficacy is the share of a stand's exposure that treatment removes at once. Default 1,
	// assumed.
	Efficacy geo.Share
	// Regrowth is the share of the removed exposure that returns within a year. Default 0, assumed.
	Regrowth geo.Share
	// Growth is the yearly growth of an untreated stand's exposure, as a share. Default 0, assumed.
	Growth PerYear
	// Labour is the labour of the years after the first, as shares of the first year's: the first
	// entry is for the year after it. After the last entry no labour is needed.
	Labour []geo.Share
}

// DefaultSettings returns the defaults named on each field. The shares of labour are those of
// spraying alone in a handbook for landowners (Arundo: A Landowner Handbook, comparison of
// treatment methods, page 1: 84 % of ten years' labour in the first year, 7, 3 and, in the fifth, 2
// %). The fourth year is between its neighbours, our choice.
func DefaultSettings() Settings {
	return Settings{
		Quarters: 1, FollowUpFirst: true, Block: 5, SiteDistance: 100, LookFirst: 4, Efficacy: 1,
		Labour: []geo.Share{0.083, 0.036, 0.03, 0.024},
	}
}

// mostQuarters is the largest number of quarters planned. Our choice: ten years, as far as
// handbooks divide labour.
const mostQuarters = 40

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	switch {
	case !(s.Budget >= 0):
		return fmt.Errorf("budget must be 0 or more, got %g", s.Budget)
	case s.Quarters < 1 || s.Quarters > mostQuarters:
		return fmt.Errorf("quarters must be 1 to %d, got %d", mostQuarters, s.Quarters)
	case !(s.SetUp >= 0) || !(s.PerAcre >= 0):
		return fmt.Errorf("costs must be 0 or more, got %g and %g", s.SetUp, s.PerAcre)
	case !(s.Block > 0):
		return fmt.Errorf("block must be above 0 acres, got %g", float64(s.Block))
	case !(s.SiteDistance >= 0):
		return fmt.Errorf("site distance must be 0 m or more, got %g", float64(s.SiteDistance))
	case s.LookFirst < 1:
		return fmt.Errorf("look first must be at least 1 quarter, got %d", s.LookFirst)
	}
	switch {
	case !(s.Efficacy >= 0 && s.Efficacy <= 1) || !(s.Regrowth >= 0 && s.Regrowth <= 1):
		return fmt.Errorf("efficacy and regrowth must be 0 to 1, got %g and %g", s.Efficacy, s.Regrowth)
	case !(s.Growth >= 0):
		return fmt.Errorf("growth must be 0 or more, got %g", s.Growth)
	}
	for _, share := range s.Labour {
		if !(share >= 0 && share <= 1) {
			return fmt.Errorf("labour of a later year must be 0 to 1 of the first year's, got %g", share)
		}
	}
	return nil
}

// InAcres says whether the budget is in acres: no costs are given.
func (s Settings) InAcres() bool { return s.SetUp == 0 && s.PerAcre == 0 }

// perAcre is the cost of an acre.
func (s Settings) perAcre() CostPerAcre {
	if s.InAcres() {
		return 1
	}
	return s.PerAcre
}

const unitOfAcres = "acres"

// UnitName is the unit of the budget for readers.
func (s Settings) UnitName() string {
	switch {
	case s.Unit != "":
		return s.Unit
	case s.InAcres():
		return unitOfAcres
	}
	return "units of cost"
}
