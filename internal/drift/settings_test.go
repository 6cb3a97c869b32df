package drift

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/geo"
)

// TestSettingsOutOfRange: each has its own message; values at the limits are accepted.
func TestSettingsOutOfRange(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	for _, test := range []struct {
		want string // of the error; blank for none
		set  func(s *Settings)
	}{
		{"half distance by order", func(s *Settings) { s.HalfDistanceByOrder = nil }},
		{"half distance of order 2 must be above 0 km, got 0", func(s *Settings) { s.HalfDistanceByOrder = []geo.Kilometers{1, 0, -1} }},
		{"half distance of order 1", func(s *Settings) { s.HalfDistanceByOrder = []geo.Kilometers{geo.Kilometers(nan)} }},
		{"", func(s *Settings) { s.HalfDistanceByOrder = []geo.Kilometers{0.001} }},
		{"velocity by order", func(s *Settings) { s.VelocityByOrder = nil }}, {"velocity of order 3 must be above 0 m/s, got -1", func(s *Settings) { s.VelocityByOrder = []geo.MetersPerSecond{1, 1, -1} }},
		{"", func(s *Settings) { s.VelocityByOrder = []geo.MetersPerSecond{0.01} }},
		{"pass share of a dam", func(s *Settings) { s.Pass = map[string]geo.Share{"weir": 2, "dam": 1.01} }}, {"pass share of a weir", func(s *Settings) { s.Pass = map[string]geo.Share{"weir": -0.01, "dam": 1} }},
		{"overtopping share of a dam", func(s *Settings) { s.Overtop = map[string]geo.Share{"dam": geo.Share(nan)} }}, {"", func(s *Settings) {
			s.Pass, s.Overtop = map[string]geo.Share{"dam": 0, "weir": 1}, map[string]geo.Share{"dam": 1}
		}},
		{"velocity factor", func(s *Settings) { s.VelocityFactor = 0 }}, {"flood factor", func(s *Settings) { s.FloodFactor = 0 }}, {"viable days", func(s *Settings) { s.Viable = 0 }},
		{"risk share", func(s *Settings) { s.RiskShare = 0 }}, {"risk share", func(s *Settings) { s.RiskShare = 1 }}, {"fragments per acre", func(s *Settings) { s.FragmentsPerAcre = 0 }},
		{"treated release", func(s *Settings) { s.TreatedRelease = -0.1 }}, {"treated release", func(s *Settings) { s.TreatedRelease = 1.1 }}, {"", func(s *Settings) { s.TreatedRelease = 0 }}, {"", func(s *Settings) { s.TreatedRelease = 1 }},
		{"exposure breaks", func(s *Settings) { s.ExposureBreaks = [2]Amount{0, 1} }}, {"exposure breaks", func(s *Settings) { s.ExposureBreaks = [2]Amount{0.5, 0.5} }},
		{"", func(s *Settings) {
			s.VelocityFactor, s.FloodFactor, s.Viable, s.RiskShare, s.FragmentsPerAcre = 0.1, 0.1, 0.1, 0.999, 0.1
		}},
		{"", func(s *Settings) { s.ExposureBreaks = [2]Amount{0.001, 0.002} }},
	} {
		s := DefaultSettings()
		test.set(&s)
		if err := s.Validate(); (err == nil) != (test.want == "") || err != nil && !strings.HasPrefix(err.Error(), test.want) {
			t.Errorf("%v, want %q", err, test.want)
		}
	}
}

// TestDefaultsAreTheStatedOnes: the defaults are those in the comments of the fields; classes begin
// at their breaks; high orders use the last half-distance and velocity.
func TestDefaultsAreTheStatedOnes(t *testing.T) {
	s := DefaultSettings()
	want := Settings{
		HalfDistanceByOrder: []geo.Kilometers{0.35, 0.35, 1, 1, 2.3}, FloodFactor: 1, VelocityFactor: 1, RiskShare: 0.05, FragmentsPerAcre: 1, TreatedRelease: 0.1,
		Pass: map[string]geo.Share{"dam": 0.3, "reservoir": 0.3, "weir": 0.7, "culvert": 0.9, "lake": 0.3}, ExposureBreaks: [2]Amount{0.05, 0.5},
		VelocityByOrder: []geo.MetersPerSecond{0.2, 0.25, 0.35, 0.5, 0.7}, Viable: 10,
	}
	if d := cmp.Diff(want, s); d != "" {
		t.Error(d)
	}
	for amount, class := range map[float64]Class{0: Low, 0.0499: Low, 0.05: Moderate, 0.4999: Moderate, 0.5: High, 7: High} {
		if got := s.class(Amount(amount)); got != class {
			t.Errorf("%g is of class %d, want %d", amount, got, class)
		}
	}
	for order, half := range map[int]float64{0: 350, 1: 350, 2: 350, 3: 1000, 4: 1000, 5: 2300, 9: 2300} {
		if got := math.Ln2 / s.rate(order); math.Abs(float64(got)-half) > 1e-9 {
			t.Errorf("order %d: half after %g m, want %g", order, got, half)
		}
	}
}
