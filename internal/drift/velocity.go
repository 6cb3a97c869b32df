package drift

import (
	"math"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// Rung is the source of a velocity, best first.
type Rung uint8

// The sources. PublishedError gives the error of each.
const (
	Recorded      Rung = iota // the centerline's own mean velocity
	JobsonSlope               // drainage area, discharge, mean annual discharge and slope
	JobsonNoSlope             // drainage area, discharge and mean annual discharge
	PowerLaw                  // discharge alone
	ByOrder                   // the settings' table by stream order
)

// String returns the source in words.
func (r Rung) String() string {
	return [...]string{
		"recorded velocity", "Jobson 1996 with slope", "Jobson 1996 without slope",
		"discharge power law", "assumed velocity by stream order",
	}[r]
}

// PublishedError returns the published error of a source in a few words.
func (r Rung) PublishedError() string {
	return [...]string{
		"as measured", "standard error about 100 %", "standard error about 100 %",
		"a regression over many streams, any one may lie a factor of 2 off", "assumed, error unknown",
	}[r]
}

// Velocity is the velocity of one stream's water, in metres a second.
type Velocity struct {
	Mean geo.MetersPerSecond // probable mean velocity of a dissolved substance
	Fast geo.MetersPerSecond // highest probable velocity; Mean where the source gives none
	Rung Rung
}

// Standard gravity as the report's implementation rounds it, m/s2.
const gravity = 9.8

// surfaceFactor is mean velocity over surface velocity: floating material moves faster by 1/0.85
// (the float method of stream gauging).
const surfaceFactor = 0.85

// leadingEdge is the arrival time of the leading edge of a dissolved cloud, as a share of the time
// of its peak (Jobson 1996).
const leadingEdge = 0.890

// velocity uses the first source for which there are data: the recorded velocity; Jobson (USGS WRIR
// 96-4013, 1996) with or without slope; V = 0.194 Q^0.285 (Raymond et al. 2012); the setting by
// stream order.
func velocity(c *stream.Centerline, byOrder []geo.MetersPerSecond, order int) Velocity {
	hasJobson := c.Drainage > 0 && c.Discharge > 0 && c.MeanDischarge > 0
	switch {
	case c.MeanVelocity > 0:
		return Velocity{Mean: c.MeanVelocity, Fast: c.MeanVelocity, Rung: Recorded}
	case hasJobson && c.Slope > 0:
		return jobsonSlope(float64(c.Drainage)*1e6, float64(c.Discharge), float64(c.MeanDischarge), c.Slope)
	case hasJobson:
		return jobsonNoSlope(float64(c.Drainage)*1e6, float64(c.Discharge), float64(c.MeanDischarge))
	case c.Discharge > 0:
		v := 0.194 * math.Pow(float64(c.Discharge), 0.285)
		return plain(v, v, PowerLaw)
	}
	v := byOrder[min(max(order, 1), len(byOrder))-1]
	return Velocity{Mean: v, Fast: v, Rung: ByOrder}
}

// jobsonSlope is equation 12 and its envelope, 13, of Jobson (1996): drainage
// area Da in m2, discharge Q and mean annual discharge Qa in m3/s, slope S.
func jobsonSlope(Da, Q, Qa, S float64) Velocity {
	DaPrime, QaPrime := dimensionless(Da, Q, Qa)

	term := math.Pow(DaPrime, 0.919) * math.Pow(QaPrime, -0.469) * math.Pow(S, 0.159) * Q / Da

	Vp := 0.094 + 0.0143*term
	Vmp := 0.25 + 0.02*term
	return plain(Vp, Vmp, JobsonSlope)
}

// jobsonNoSlope is equation 14 and its envelope, 15, of Jobson (1996).
func jobsonNoSlope(Da, Q, Qa float64) Velocity {
	DaPrime, QaPrime := dimensionless(Da, Q, Qa)

	term := math.Pow(DaPrime, 0.821) * math.Pow(QaPrime, -0.465) * Q / Da

	Vp := 0.020 + 0.051*term
	Vmp := 0.2 + 0.093*term
	return plain(Vp, Vmp, JobsonNoSlope)
}

// dimensionless returns the dimensionless drainage area D'a and relative
// discharge Q'a of Jobson (1996).
func dimensionless(Da, Q, Qa float64) (DaPrime, QaPrime float64) {
	return math.Pow(Da, 1.25) * math.Sqrt(gravity) / Qa, Q / Qa
}

// plain returns a velocity from figures in metres per second.
func plain(mean, fast float64, rung Rung) Velocity {
	return Velocity{Mean: geo.MetersPerSecond(mean), Fast: geo.MetersPerSecond(fast), Rung: rung}
}

// hours returns the travel time of a floating fragment over a length: the mean, and the shortest,
// for the leading edge at the highest probable velocity.
func (v Velocity) hours(length geo.Meters) (mean, fast geo.Hours) {
	const secondsPerHour = 3600
	mean = geo.Hours(float64(length) * surfaceFactor / float64(v.Mean) / secondsPerHour)
	fast = geo.Hours(leadingEdge * float64(length) * surfaceFactor / float64(v.Fast) / secondsPerHour)
	return mean, fast
}
