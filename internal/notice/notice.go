// Package notice finds whom to notify before they work near live stands or above clean water: one
// notice for each work and stand.
package notice

import (
	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Notice is one work and one stand that its owners are warned about.
type Notice struct {
	Work, Stand int32
	Distance    geo.Meters     // shortest distance from the stand's footprint to the work; 0 if they meet
	Near        bool           // the stand is live and within the notice distance
	Upstream    bool           // fragments that the work might set afloat could reach clean water
	AtWater     bool           // the work touches the aquatic zone
	CleanKm     geo.Kilometers // stream below the work that its fragments could reach and no stand's can; 0 away from the water
}

// The reasons, as printed.
const (
	NearStand  = "near a live stand"
	CleanWater = "upstream of clean water"
)

// Why returns the reasons, a near stand first.
func (n *Notice) Why() []string {
	var out []string
	if n.Near {
		out = append(out, NearStand)
	}
	if n.Upstream {
		out = append(out, CleanWater)
	}
	return out
}

// What the owners of a work are asked to do, one sentence each: common practice in our own words, for
// crews that do not know the plant.
const (
	GoRound      = "go round the stand: keep people, machines and storage out of it"
	NoCutting    = "do not cut, mow or dig through it"
	Inspect      = "inspect and clean machines and tools before they come and before they leave"
	InspectFill  = "inspect fill, soil and gravel before they are brought and before they are taken away; take none from the stand"
	PickUp       = "pick up every piece of cane and root, and dry it on firm ground away from the water"
	OutOfTheFlow = "let nothing float off: keep pieces out of the channel and off the bank"
)

// Caution returns what the owners of the work are asked to do, the most important first.
func (n *Notice) Caution() []string {
	var out []string
	if n.Near {
		out = append(out, GoRound, NoCutting)
	}
	out = append(out, Inspect, InspectFill, PickUp)
	if n.AtWater {
		out = append(out, OutOfTheFlow)
	}
	return out
}

// Live says whether a stand may sprout from any fragment: it was not treated, or has resprouted.
func Live(s *stand.Stand) bool {
	return s.Status == survey.Untreated || s.Status == survey.Resprout
}
