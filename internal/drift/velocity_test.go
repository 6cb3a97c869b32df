package drift

import (
	"math"
	"testing"

	"driftreach/internal/stream"
)

var nan = math.NaN()

func gauged(change func(*stream.Centerline)) *stream.Centerline {
	c := &stream.Centerline{MeanVelocity: nan, Drainage: nan, Discharge: nan, MeanDischarge: nan, Slope: nan}
	change(c)
	return c
}

// Jobson, USGS WRIR 96-4013 (1996), equations as in the report's implementation, results
// recomputed: Da 390 km2, Q 3.347788, Qa 4.503982 m3/s over 15 km give 0.26437 and 0.64562 m/s,
// 15.761 and 6.454 h.
func TestJobsonWithoutSlope(t *testing.T) {
	v := velocity(gauged(func(c *stream.Centerline) {
		c.Drainage, c.Discharge, c.MeanDischarge = 390, 3.347788, 4.503982
	}), []MetersPerSecond{9}, 1)
	if v.Rung != JobsonNoSlope {
		t.Fatalf("rung %v", v.Rung)
	}
	for _, tt := range []struct {
		name      string
		got, want float64
		tolerance float64
	}{
		{"probable velocity", float64(v.Mean), 0.26437, 5e-6},
		{"highest probable velocity", float64(v.Fast), 0.64562, 5e-6},
		{"hours at the first", 15000 / float64(v.Mean) / 3600, 15.761, 5e-4},
		{"hours at the second", 15000 / float64(v.Fast) / 3600, 6.454, 5e-4},
	} {
		if math.Abs(tt.got-tt.want) > tt.tolerance {
			t.Errorf("%s: %.6f, want %.6f", tt.name, tt.got, tt.want)
		}
	}
}

// The same river with a slope of 0.001, by hand from the report's equations:
// D'a = 390e6^1.25 x sqrt(9.8) / 4.503982 = 3.80932e10, ^0.919 = 5.29418e9;
// Q'a = 0.743295, ^-0.469 = 1.14928; 0.001^0.159 = 0.333426; Q/Da = 8.58407e-9;
// their product is 17.4148, so that Vp = 0.094 + 0.0143 x 17.4148 and
// Vmp = 0.25 + 0.02 x 17.4148.
func TestJobsonWithSlope(t *testing.T) {
	v := velocity(gauged(func(c *stream.Centerline) {
		c.Drainage, c.Discharge, c.MeanDischarge, c.Slope = 390, 3.347788, 4.503982, 0.001
	}), []MetersPerSecond{9}, 1)
	if v.Rung != JobsonSlope || math.Abs(float64(v.Mean)-0.34303) > 5e-6 || math.Abs(float64(v.Fast)-0.598295) > 5e-6 {
		t.Errorf("%v: %.6f and %.6f m/s, want 0.34303 and 0.598295", v.Rung, float64(v.Mean), float64(v.Fast))
	}
}

// The best source for which the data are given is used. 0.194 x 16^0.285 = 0.4276 (Raymond et al.
// 2012), by hand.
func TestVelocityLadder(t *testing.T) {
	all := func(c *stream.Centerline) {
		c.MeanVelocity, c.Drainage, c.Discharge, c.MeanDischarge, c.Slope = 0.6, 390, 16, 20, 0.002
	}
	tests := []struct {
		name   string
		change func(*stream.Centerline)
		rung   Rung
		mean   float64 // 0: not checked here
	}{
		{"everything", func(*stream.Centerline) {}, Recorded, 0.6},
		{"no velocity", func(c *stream.Centerline) { c.MeanVelocity = nan }, JobsonSlope, 0},
		{"nor slope", func(c *stream.Centerline) { c.MeanVelocity, c.Slope = nan, nan }, JobsonNoSlope, 0},
		{"discharge alone", func(c *stream.Centerline) { c.MeanVelocity, c.Drainage = nan, nan }, PowerLaw, 0.194 * math.Exp(0.285*math.Log(16))},
		{"nothing", func(c *stream.Centerline) { *c = *gauged(func(*stream.Centerline) {}) }, ByOrder, 0.35},
		{"a velocity of 0 is not one", func(c *stream.Centerline) { *c = *gauged(func(c *stream.Centerline) { c.MeanVelocity = 0 }) }, ByOrder, 0.35},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := gauged(all)
			tt.change(c)
			v := velocity(c, []MetersPerSecond{0.2, 0.25, 0.35}, 7)
			if v.Rung != tt.rung || tt.mean > 0 && math.Abs(float64(v.Mean)-tt.mean) > 1e-12 {
				t.Errorf("%v at %g m/s, want %v at %g", v.Rung, float64(v.Mean), tt.rung, tt.mean)
			}
			if float64(v.Fast) < float64(v.Mean) {
				t.Errorf("fast %g is below mean %g", float64(v.Fast), float64(v.Mean))
			}
			if v.Rung.String() == "" || v.Rung.PublishedError() == "" {
				t.Error("the rung has no words")
			}
		})
	}
}

// Floating material moves at mean / 0.85: 3600 m at a mean of 0.85 m/s take an hour, the first
// fragment 0.89 of that. By hand.
func TestHoursAfloat(t *testing.T) {
	mean, fast := Velocity{Mean: 0.85, Fast: 0.85}.hours(3600)
	if math.Abs(float64(mean)-1) > 1e-12 || math.Abs(float64(fast)-0.89) > 1e-12 {
		t.Errorf("%g and %g hours, want 1 and 0.89", mean, fast)
	}
}
