package drift

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// Settings are the rates at which fragments float and settle.
type Settings struct {
	// HalfDistanceByOrder is the distance over which half of what floats settles, by stream order;
	// the last entry holds for all higher orders. Default 0.35, 0.35, 1, 1, 2.3, assumed: between
	// the distances observed for knotweed stems (Charpentier et al. 2024) and rhizome fragments
	// (Johansson & Nilsson).
	HalfDistanceByOrder []geo.Kilometers
	// FloodFactor lengthens every half-distance; 1 at base flow. Default 4 in
	// flood, our choice within the published 2 to 11 (Brookshire & Dwire 2003).
	FloodFactor Factor
	// VelocityFactor multiplies every velocity, including recorded ones; 1 at base flow. In
	// flood it is the ratio of discharges to the power 0.34 (FloodVelocity).
	VelocityFactor Factor
	// Overtop is the share that passes a barrier at this stage, of the amount it holds at base flow,
	// by kind of barrier. Default none.
	Overtop map[string]geo.Share
	// Dry holds the permanences of lines without water at this stage; these carry nothing. Default
	// none.
	Dry map[stream.Permanence]bool
	// RiskShare is the share still afloat at which a stand's reach ends. Default 0.05, assumed.
	RiskShare geo.Share
	// FragmentsPerAcre is the amount an acre of canopy releases. Default 1: a relative index.
	FragmentsPerAcre PerAcre
	// TreatedRelease is the share of FragmentsPerAcre that a treated or standing dead patch
	// still releases. Default 0.1, assumed.
	TreatedRelease geo.Share
	// Pass is the share that passes a barrier, by its kind. Default dam and reservoir 0.3, weir 0.7,
	// culvert 0.9, assumed; "lake" is the outlet of a lake drawn as an area, 0.3 as for a reservoir,
	// assumed.
	Pass map[string]geo.Share
	// ExposureBreaks are the amounts afloat from which exposure is moderate and high. Default 0.05
	// and 0.5, assumed: a twentieth and a half of an acre's release.
	ExposureBreaks [2]Amount
	// VelocityByOrder is the mean velocity in metres per second, by stream order, for centerlines
	// without data to compute one from; the last entry holds for all higher orders. Default 0.2,
	// 0.25, 0.35, 0.5, 0.7, assumed.
	VelocityByOrder []geo.MetersPerSecond
	// Viable is how long a floating fragment can still root; the reach ends where the first to
	// arrive is older. Default 10, assumed.
	Viable Days
}

// DefaultSettings returns the defaults named on each field, at base flow.
func DefaultSettings() Settings {
	return Settings{
		HalfDistanceByOrder: []geo.Kilometers{0.35, 0.35, 1, 1, 2.3},
		FloodFactor:         1,
		VelocityFactor:      1,
		RiskShare:           0.05,
		FragmentsPerAcre:    1,
		TreatedRelease:      0.1,
		Pass:                map[string]geo.Share{"dam": 0.3, "reservoir": 0.3, "weir": 0.7, "culvert": 0.9, "lake": 0.3},
		ExposureBreaks:      [2]Amount{0.05, 0.5},
		VelocityByOrder:     []geo.MetersPerSecond{0.2, 0.25, 0.35, 0.5, 0.7},
		Viable:              10,
	}
}

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	if len(s.HalfDistanceByOrder) == 0 {
		return fmt.Errorf("half distance by order must have an entry")
	}
	for i, h := range s.HalfDistanceByOrder {
		if !(h > 0) {
			return fmt.Errorf("half distance of order %d must be above 0 km, got %g", i+1, h)
		}
	}
	if len(s.VelocityByOrder) == 0 {
		return fmt.Errorf("velocity by order must have an entry")
	}
	for i, v := range s.VelocityByOrder {
		if !(v > 0) {
			return fmt.Errorf("velocity of order %d must be above 0 m/s, got %g", i+1, v)
		}
	}
	for _, shares := range []struct {
		what string
		of   map[string]geo.Share
	}{{"pass", s.Pass}, {"overtopping", s.Overtop}} {
		for _, kind := range slices.Sorted(maps.Keys(shares.of)) {
			if p := shares.of[kind]; !(p >= 0 && p <= 1) {
				return fmt.Errorf("%s share of a %s must be 0 to 1, got %g", shares.what, kind, p)
			}
		}
	}
	switch {
	case !(s.VelocityFactor > 0):
		return fmt.Errorf("velocity factor must be above 0, got %g", s.VelocityFactor)
	case !(s.FloodFactor > 0):
		return fmt.Errorf("flood factor must be above 0, got %g", s.FloodFactor)
	case !(s.Viable > 0):
		return fmt.Errorf("viable days must be above 0, got %g", s.Viable)
	case !(s.RiskShare > 0 && s.RiskShare < 1):
		return fmt.Errorf("risk share must lie between 0 and 1, got %g", s.RiskShare)
	case !(s.FragmentsPerAcre > 0):
		return fmt.Errorf("fragments per acre must be above 0, got %g", s.FragmentsPerAcre)
	case !(s.TreatedRelease >= 0 && s.TreatedRelease <= 1):
		return fmt.Errorf("treated release must be 0 to 1, got %g", s.TreatedRelease)
	case !(s.ExposureBreaks[0] > 0 && s.ExposureBreaks[0] < s.ExposureBreaks[1]):
		return fmt.Errorf("exposure breaks must rise from above 0, got %v", s.ExposureBreaks)
	}
	return nil
}

// velocityExponent is the exponent of mean velocity with discharge at a place: V = k Q^0.34
// (Leopold and Maddock 1953, USGS Professional Paper 252).
const velocityExponent = 0.34

// FloodVelocity returns the factor on velocity for a discharge given as a multiple of that at base
// flow.
func FloodVelocity(discharge Factor) Factor {
	return Factor(math.Pow(float64(discharge), velocityExponent))
}

// passAt returns the share that passes a barrier at this stage. It adjusts the recorded share at
// base flow, or that of the barrier's kind where recorded is NaN.
func (s Settings) passAt(kind stream.Barrier, recorded geo.Share) geo.Share {
	pass := recorded
	if math.IsNaN(float64(pass)) {
		pass = s.Pass[string(kind)]
	}
	return pass + s.Overtop[string(kind)]*(1-pass)
}

// rate returns the loss per metre afloat on a stream of the given order:
// ln 2 / half-distance.
func (s Settings) rate(order int) PerMeter {
	half := s.HalfDistanceByOrder[min(max(order, 1), len(s.HalfDistanceByOrder))-1]
	return PerMeter(math.Ln2 / (float64(half.Meters()) * float64(s.FloodFactor)))
}

// class returns the class of an amount afloat.
func (s Settings) class(amount Amount) Class {
	switch {
	case amount >= s.ExposureBreaks[1]:
		return High
	case amount >= s.ExposureBreaks[0]:
		return Moderate
	}
	return Low
}
