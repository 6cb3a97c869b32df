package trend

import (
	"testing"

	"pgregory.net/rapid"
)

func yearly(values []float64, first float64) []Sample {
	var out []Sample
	for i, v := range values {
		out = append(out, Sample{first + float64(i), v})
	}
	return out
}

// Published: Helsel and Hirsch, chapter 10, on the line 1 2 3 4 5 16 7: one outlier does not move
// it. Slope 1, intercept 0.
func TestSlopePassesByAWildValue(t *testing.T) {
	samples := yearly([]float64{1, 2, 3, 4, 5, 16, 7}, 1)
	if slope := Slope(samples); slope != 1 || Intercept(slope, samples) != 0 {
		t.Errorf("slope %v, intercept %v", slope, Intercept(slope, samples))
	}
}

// The worked example, -0.558333 acres a year, recomputed by SciPy 1.10.1.
func TestSeasonalSlopeOfTheWorkedExample(t *testing.T) {
	var seasons [][]Sample
	for k, values := range quarterly {
		seasons = append(seasons, yearly(values, 2021+float64(k)/4))
	}
	if got := Slope(seasons...); !near(got, -0.558333, 5e-7) {
		t.Errorf("slope %v", got)
	}
}

// Reference program: SciPy 1.10.1, scripts/oracle_trend.py.
func TestSlopesOfSciPy(t *testing.T) {
	for _, c := range oracle(t) {
		samples := c.samples()
		slope := Slope(samples...)
		if !near(slope, c.Slope, 1e-9) {
			t.Errorf("%s: slope %v, want %v", c.Name, slope, c.Slope)
		}
		if c.Intercept != nil && !near(Intercept(slope, samples[0]), *c.Intercept, 1e-6) {
			t.Errorf("%s: intercept %v, want %v", c.Name, Intercept(slope, samples[0]), *c.Intercept)
		}
	}
}

func TestSlopeOfNextToNothing(t *testing.T) {
	for name, samples := range map[string][]Sample{"none": nil, "one": {{2020, 5}}, "one time": {{2020, 5}, {2020, 9}}} {
		if got := Slope(samples); got != 0 {
			t.Errorf("%s: slope %v", name, got)
		}
	}
}

// A shift by any number of quarters does not change the slope; scaled and mirrored values scale and
// mirror it. All exact: times are quarters, factors powers of 2.
func TestSlopeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.IntRange(0, 100000), 0, 12).Draw(t, "values")
		shift := float64(rapid.IntRange(-4000, 4000).Draw(t, "quarters")) / 4
		factor := float64(int(1) << rapid.IntRange(0, 6).Draw(t, "power"))
		var base, later, scaled, mirrored []Sample
		for i, v := range values {
			at, x := 2020+float64(i)/4, float64(v)/1e4
			base = append(base, Sample{at, x})
			later = append(later, Sample{at + shift, x})
			scaled = append(scaled, Sample{at, x * factor})
			mirrored = append(mirrored, Sample{at, -x})
		}
		slope := Slope(base)
		if Slope(later) != slope || Slope(scaled) != slope*factor || Slope(mirrored) != -slope {
			t.Fatalf("slope %v, later %v, scaled %v, mirrored %v", slope, Slope(later), Slope(scaled), Slope(mirrored))
		}
	})
}
