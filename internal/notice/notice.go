// Package notice finds the people to be told before they work near live stands
// or above clean water: a notice a work and stand.
package notice

import (
	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Notice is one work and one stand that its people are warned of.
type Notice struct {
	Work, Stand int32
	Distance    geo.Meters     // shortest, from the stand's footprint to the work; 0 where they meet
	Near        bool           // the stand is live and within the notice distance
	Upstream    bool           // clean water is within reach of what the work might let float
	AtWater     bool           // the work touches the aquatic zone
	CleanKm     geo.Kilometers // stream below the work that its fragments could reach and no stand's do; 0 away from the water
}

// The reasons, as they are printed.
const (
	NearStand  = "near a live stand"
	CleanWater = "upstream of clean water"
)

// Why returns the reasons, nearest first.
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

// What the people are asked to do, a sentence each: common practice in our own
// words, for crews that do not know the plant.
const (
	GoRound      = "go round the stand: keep people, machines and storage out of it"
	NoCutting    = "do not cut, mow or dig through it"
	Inspect      = "inspect and clean machines and tools before they come and before they leave"
	InspectFill  = "inspect fill, soil and gravel before they are brought and before they are taken away; take none from the stand"
	PickUp       = "pick up every piece of cane and root, and dry it on firm ground away from the water"
	OutOfTheFlow = "let nothing float off: keep pieces out of the channel and off the bank"
)

// Caution returns what the work's people are asked to do, what matters most
// first.
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

// Live says whether a stand may sprout from any piece that is moved: it was not
// treated, or has sprouted again.
func Live(s *stand.Stand) bool {
	return s.Status == survey.Untreated || s.Status == survey.Resprout
}
