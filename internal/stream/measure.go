package stream

import (
	"fmt"
	"math"

	"driftreach/geo"
	"driftreach/internal/check"
)

// checkMeasures blanks each attribute that cannot be true.
func (c *checker) checkMeasures(l *Centerline) {
	if l.Divergence > MinorPath {
		c.report(l, ruleDivergence, "divergence", fmt.Sprint(uint8(l.Divergence)), "divergence is not 0, 1 or 2; the value was left out")
		l.Divergence = NoDivergence
	}
	c.share(l, "flow_share", &l.FlowShare)
	c.share(l, "barrier_pass", &l.BarrierPass)
	if b, ok := ParseBarrier(string(l.Barrier)); ok {
		l.Barrier = b
	} else {
		c.report(l, ruleBarrier, "barrier", string(l.Barrier), "the word is no barrier; the line is read as having none")
		l.Barrier = NoBarrier
	}
	if p, ok := ParsePermanence(string(l.Permanence)); ok {
		l.Permanence = p
	} else {
		c.report(l, rulePermanence, "flow_permanence", string(l.Permanence), "the word is not known; the line is read as having water")
		l.Permanence = UnknownPermanence
	}
	if l.Order < 0 {
		c.negative(l, "stream_order", float64(l.Order))
		l.Order = 0
	}
	c.length(l, "bankfull_width_m", &l.BankfullWidth)
	c.length(l, "length_km", &l.Length)
	c.measure(l, "mean_velocity_mps", &l.MeanVelocity)
	c.measure(l, "drainage_km2", &l.Drainage)
	c.measure(l, "discharge_m3s", &l.Discharge)
	c.measure(l, "mean_discharge_m3s", &l.MeanDischarge)
	l.Rises = l.Slope < 0
	c.measure(l, "slope", &l.Slope)
	c.measure(l, "catchment_km2", &l.LocalArea)
}

func (c *checker) share(l *Centerline, field string, v *float64) {
	if math.IsNaN(*v) || *v >= 0 && *v <= 1 {
		return
	}
	c.report(l, ruleShare, field, plain(*v), field+" is not 0 to 1; the value was left out")
	*v = math.NaN()
}

func (c *checker) measure(l *Centerline, field string, v *float64) {
	if math.IsNaN(*v) || *v >= 0 && !math.IsInf(*v, 1) {
		return
	}
	c.negative(l, field, *v)
	*v = math.NaN()
}

func (c *checker) length(l *Centerline, field string, v *geo.Meters) {
	if f := float64(*v); !(f >= 0) || math.IsInf(f, 1) {
		c.negative(l, field, f)
		*v = 0
	}
}

func (c *checker) negative(l *Centerline, field string, v float64) {
	c.report(l, ruleNegative, field, plain(v), field+" is below 0; the value was left out")
}

// RuleDivergence is for readers, which meet words that no Divergence can hold.
func RuleDivergence() check.Rule { return ruleDivergence }
