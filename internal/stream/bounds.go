package stream

import (
	"fmt"
	"math"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// The largest values any stream has. A larger value is left out: it is in another unit, or it is
// the source's code for unknown.
const (
	mostOrder     = 12     // common practice: no river of the world is mapped with a higher one
	mostVelocity  = 10     // our choice, m/s: the upper limit of the setting; the fastest measured floods are below it
	mostDrainage  = 1e7    // our choice, km2: the largest basin on earth has 7e6
	mostDischarge = 1e6    // our choice, m3/s: three times the largest flood ever gauged
	mostSlope     = 1      // our choice: anything steeper than 45 degrees is a waterfall; a slope in percent soon exceeds it
	mostApart     = 1.5    // our choice: largest ratio of recorded and drawn length; generalised lines differ by a third
	leastApart    = 0.010  // our choice, km: a smaller difference can be rounding of a short line
	mostLength    = 40_000 // our choice, km: once around the earth
)

// MostWidth is the largest bankfull width, in metres. Our choice: the upper limit of the width
// setting.
const MostWidth geo.Meters = 5000

// checkMeasures blanks every attribute that cannot be true.
func (c *checker) checkMeasures(l *Centerline) {
	if l.Divergence > MinorPath {
		c.Report(l, ruleDivergence, "divergence", fmt.Sprint(uint8(l.Divergence)), "divergence is not 0, 1 or 2; the value was left out")
		l.Divergence = NoDivergence
	}
	c.share(l, "flow_share", &l.FlowShare)
	c.share(l, "barrier_pass", &l.BarrierPass)
	if b, ok := ParseBarrier(string(l.Barrier)); ok {
		l.Barrier = b
	} else {
		c.Report(l, ruleBarrier, "barrier", string(l.Barrier), "the word is no barrier; the line is read as having none")
		l.Barrier = NoBarrier
	}
	if p, ok := ParsePermanence(string(l.Permanence)); ok {
		l.Permanence = p
	} else {
		c.Report(l, rulePermanence, "flow_permanence", string(l.Permanence), "the word is not known; the line is read as having water")
		l.Permanence = UnknownPermanence
	}
	order := float64(l.Order)
	if measure(c, l, "stream_order", &order, mostOrder); math.IsNaN(order) {
		l.Order = 0
	}
	c.length(l, "bankfull_width_m", &l.BankfullWidth, MostWidth)
	c.recordedLength(l)
	measure(c, l, "mean_velocity_mps", &l.MeanVelocity, mostVelocity)
	measure(c, l, "drainage_km2", &l.Drainage, mostDrainage)
	measure(c, l, "discharge_m3s", &l.Discharge, mostDischarge)
	measure(c, l, "mean_discharge_m3s", &l.MeanDischarge, mostDischarge)
	l.Rises = l.Slope < 0
	measure(c, l, "slope", &l.Slope, mostSlope)
	measure(c, l, "catchment_km2", &l.LocalArea, mostDrainage)
}

// recordedLength leaves out a recorded length that disagrees with the drawn line, such as metres
// read as kilometres, or the source's code for unknown.
func (c *checker) recordedLength(l *Centerline) {
	recorded := float64(l.Length) / 1000
	if measure(c, l, "length_km", &recorded, mostLength); math.IsNaN(recorded) {
		l.Length = 0
		return
	}
	if l.Length == 0 || len(l.Path) < 2 {
		return
	}
	drawn := float64(earth.LineLength(l.Path).Kilometers())
	if math.Abs(recorded-drawn) <= leastApart || recorded <= mostApart*drawn && drawn <= mostApart*recorded {
		return
	}
	c.Report(l, ruleLength, "length_km", check.Number(recorded), fmt.Sprintf("the line is drawn %.3f km long; the recorded length was left out", drawn))
	l.Length = 0
}

func (c *checker) share(l *Centerline, field string, v *geo.Share) {
	if math.IsNaN(float64(*v)) || *v >= 0 && *v <= 1 {
		return
	}
	c.Report(l, ruleShare, field, check.Number(float64(*v)), field+" is not 0 to 1; the value was left out")
	*v = geo.Share(math.NaN())
}

// measure sets a value below 0 or above most to NaN.
func measure[U ~float64](c *checker, l *Centerline, field string, v *U, most U) {
	switch {
	case math.IsNaN(float64(*v)) || *v >= 0 && *v <= most:
		return
	case *v > most:
		c.Report(l, ruleBounds, field, check.Number(float64(*v)), fmt.Sprintf("%s is above %g, which no stream has; the value was left out", field, float64(most)))
	default:
		c.negative(l, field, float64(*v))
	}
	*v = U(math.NaN())
}

// length does the same as measure, but sets the value to 0, which means not recorded.
func (c *checker) length(l *Centerline, field string, v *geo.Meters, most geo.Meters) {
	f := *v
	if math.IsNaN(float64(f)) {
		f = -1
	}
	if measure(c, l, field, &f, most); math.IsNaN(float64(f)) {
		*v = 0
	}
}

func (c *checker) negative(l *Centerline, field string, v float64) {
	c.Report(l, ruleNegative, field, check.Number(v), field+" is below 0; the value was left out")
}

// RuleDivergence returns the rule for a divergence out of range. Readers use it for words that are
// not numbers.
func RuleDivergence() check.Rule { return ruleDivergence }
