package drift

import (
	"math"
	"testing"

	"driftreach/geo"
	"driftreach/internal/stream"
)

var nan = math.NaN()

func gauged(change func(*stream.Centerline)) *stream.Centerline {
	c := &stream.Centerline{MeanVelocity: geo.MetersPerSecond(nan), Drainage: geo.SquareKilometers(nan), Discharge: geo.CubicMetersPerSecond(nan), MeanDischarge: geo.CubicMetersPerSecond(nan), Slope: nan}
	change(c)
	return c
}

// Peak times of Jobson (USGS WRIR 96-4013, 1996) as the Geological Survey's own program computes them:
// TravelTimeAgent of its TravelTimeService, build of 2020-02-27 (commit a4ab5c7), run with Mono 6.8.
// The rivers are those of the report's examples 1 (a gauge of 452 km2 with 3.88 and 5.22 m3/s, a basin
// of 390 km2, 15 km; the slope is ours) and 3 (the Rhine above Eglisau and to Birsfelden, 100 km; the
// slope is ours), and one between. The program takes an hour as 1/0.000277778 s, so that six digits
// agree.
func TestJobsonAsTheSurveyComputesIt(t *testing.T) {
	for _, tt := range []struct {
		drainage, discharge, mean, slope, km float64
		probable, fastest                    float64 // hours to the peak
	}{
		{390, 3.88 * 390 / 452, 5.22 * 390 / 452, nan, 15, 15.7607152034781, 6.4537798010371},
		{390, 3.88 * 390 / 452, 5.22 * 390 / 452, 0.001, 15, 12.1466320679259, 6.9642406303478},
		{16_000, 490, 240, nan, 100, 28.8636329672929, 14.4792274036521},
		{16_000, 490, 240, 0.0008, 100, 25.7320437939802, 17.0591265351124},
		{32_000, 779, 485, nan, 100, 28.4211373922762, 14.2759082033861},
		{32_000, 779, 485, 0.0008, 100, 24.9741592887053, 16.5922585181917},
		{2200, 30, 12, nan, 100, 46.0547373301404, 21.9867769190785},
		{2200, 30, 12, 0.0008, 100, 37.7972590544525, 24.2307643476174},
	} {
		v := velocity(gauged(func(c *stream.Centerline) {
			c.Drainage, c.Discharge, c.MeanDischarge, c.Slope = geo.SquareKilometers(tt.drainage), geo.CubicMetersPerSecond(tt.discharge), geo.CubicMetersPerSecond(tt.mean), tt.slope
		}), []geo.MetersPerSecond{9}, 1)
		if want := map[bool]Rung{true: JobsonSlope, false: JobsonNoSlope}[tt.slope > 0]; v.Rung != want {
			t.Fatalf("rung %v, want %v", v.Rung, want)
		}
		hours := func(v geo.MetersPerSecond) float64 { return tt.km * 1000 / float64(v) / 3600 }
		if got := hours(v.Mean); math.Abs(got-tt.probable) > 2e-6*tt.probable {
			t.Errorf("%g km2, slope %g: the peak comes after %.7f hours, want %.7f", tt.drainage, tt.slope, got, tt.probable)
		}
		if got := hours(v.Fast); math.Abs(got-tt.fastest) > 2e-6*tt.fastest {
			t.Errorf("%g km2, slope %g: the fastest peak comes after %.7f hours, want %.7f", tt.drainage, tt.slope, got, tt.fastest)
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
	}), []geo.MetersPerSecond{9}, 1)
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
		{"no velocity", func(c *stream.Centerline) { c.MeanVelocity = geo.MetersPerSecond(nan) }, JobsonSlope, 0},
		{"nor slope", func(c *stream.Centerline) { c.MeanVelocity, c.Slope = geo.MetersPerSecond(nan), nan }, JobsonNoSlope, 0},
		{"discharge alone", func(c *stream.Centerline) {
			c.MeanVelocity, c.Drainage = geo.MetersPerSecond(nan), geo.SquareKilometers(nan)
		}, PowerLaw, 0.194 * math.Exp(0.285*math.Log(16))},
		{"a basin of 0", func(c *stream.Centerline) {
			c.MeanVelocity, c.Drainage = geo.MetersPerSecond(nan), 0
		}, PowerLaw, 0.194 * math.Exp(0.285*math.Log(16))},
		{"a mean discharge of 0", func(c *stream.Centerline) {
			c.MeanVelocity, c.MeanDischarge = geo.MetersPerSecond(nan), 0
		}, PowerLaw, 0.194 * math.Exp(0.285*math.Log(16))},
		{"a discharge of 0", func(c *stream.Centerline) {
			c.MeanVelocity, c.Discharge = geo.MetersPerSecond(nan), 0
		}, ByOrder, 0.35},
		{"a slope of 0", func(c *stream.Centerline) { c.MeanVelocity, c.Slope = geo.MetersPerSecond(nan), 0 }, JobsonNoSlope, 0},
		{"nothing", func(c *stream.Centerline) { *c = *gauged(func(*stream.Centerline) {}) }, ByOrder, 0.35},
		{"a velocity of 0 is not one", func(c *stream.Centerline) { *c = *gauged(func(c *stream.Centerline) { c.MeanVelocity = 0 }) }, ByOrder, 0.35},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := gauged(all)
			tt.change(c)
			v := velocity(c, []geo.MetersPerSecond{0.2, 0.25, 0.35}, 7)
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
