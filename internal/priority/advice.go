// Package priority puts stands into treatment order, upstream first, and lists what treating each
// one requires.
package priority

import (
	"driftreach/geo"
	"driftreach/internal/aquatic"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// AcreFeetPerYear is a use of water.
type AcreFeetPerYear float64

// Advice is what is told of one stand: its place in the treatment order, and what treating it requires.
type Advice struct {
	Order        int      // counted from 1; stands that reach each other share a number
	Requirements []string // sentences, most binding first
	WaterUseLow  AcreFeetPerYear
	WaterUseHigh AcreFeetPerYear
}

// The requirements, each a sentence a crew can follow. Common practice; the label, a permit or a
// local rule may ask for more.
const (
	AquaticLabel  = "use only a formulation labelled for aquatic use"
	HandPull      = "small enough to remove by hand, where no mature canes stand, with all of the rhizome; dry what is pulled on firm ground away from the water"
	NoHandRemoval = "do not remove by hand: too large or too tall"
	LeaveStanding = "leave treated canes standing until they are dead"
	NoCutting     = "no cutting or mowing through the live stand"
	RetreatSeason = "treat the regrowth again this season"
)

// matureCane is the height from which a cane counts as mature, in metres. Common practice; the
// number is our choice: canes reach it in their first season.
const matureCane = 2

// The range of water use of live canopy over the streambed, in acre-feet per acre and year. It is
// always given as a range.
const (
	// 1100 mm a season (Triana et al. 2015): 1100 / 304.8, printed as 3.6
	waterUseLow = 3.6
	// highest figure in use for dense growth in a streambed: common practice
	waterUseHigh = 48
)

// Subject is one stand and its place in the order.
type Subject struct {
	Stand *stand.Stand
	Zone  aquatic.Membership
	Order int
}

// For returns the advice on one stand.
func For(sub Subject, s Settings) Advice {
	wet := wetCanopy(sub)
	return Advice{
		Order:        sub.Order,
		Requirements: requirements(sub, s),
		WaterUseLow:  AcreFeetPerYear(wet) * waterUseLow,
		WaterUseHigh: AcreFeetPerYear(wet) * waterUseHigh,
	}
}

// wetCanopy is the live canopy within the zone, with cover taken as even over the stand.
func wetCanopy(sub Subject) geo.Acres {
	return (sub.Zone.Area * geo.SquareMeters(sub.Stand.CoverPercent/100)).Acres()
}

// Asked says whether a status asks for treatment now: untreated growth and regrowth do. Treated or
// dead stands are only looked at again.
func Asked(status survey.Status) bool {
	return status == survey.Untreated || status == survey.Resprout
}

// requirements lists the requirements of a stand, most binding first.
func requirements(sub Subject, s Settings) []string {
	var out []string
	if sub.Zone.InZone {
		out = append(out, AquaticLabel, s.Permit)
	}
	live := Asked(sub.Stand.Status)
	if sub.Stand.Status == survey.Resprout {
		out = append(out, RetreatSeason)
	}
	small := sub.Stand.Infested <= s.HandPull && !(sub.Stand.StemHeight >= matureCane)
	switch {
	case live && small:
		out = append(out, HandPull)
	case live:
		out = append(out, NoHandRemoval)
	case sub.Stand.Status == survey.Treated:
		out = append(out, LeaveStanding)
	}
	if live {
		out = append(out, NoCutting)
	}
	return out
}
