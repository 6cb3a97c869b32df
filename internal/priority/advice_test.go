package priority

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/geo"
	"driftreach/internal/aquatic"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Expected sentences follow from the stated rules, by hand.
func TestRequirements(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name  string
		stand stand.Stand
		zone  bool
		want  []string
	}{
		{
			"live in the zone", stand.Stand{Infested: 400, StemHeight: 6}, true,
			[]string{AquaticLabel, DefaultSettings().Permit, NoHandRemoval, NoCutting},
		},
		{"small live upland", stand.Stand{Infested: 10, StemHeight: 1.5}, false, []string{HandPull, NoCutting}},
		{"small but with mature canes", stand.Stand{Infested: 9, StemHeight: 2}, false, []string{NoHandRemoval, NoCutting}},
		{"just above the hand-pull size", stand.Stand{Infested: 10.01, StemHeight: geo.Meters(nan)}, false, []string{NoHandRemoval, NoCutting}},
		{"height unknown", stand.Stand{Infested: 4, StemHeight: geo.Meters(nan)}, false, []string{HandPull, NoCutting}},
		{
			"regrowth in the zone", stand.Stand{Infested: 400, StemHeight: 1, Status: survey.Resprout}, true,
			[]string{AquaticLabel, DefaultSettings().Permit, RetreatSeason, NoHandRemoval, NoCutting},
		},
		{"treated upland", stand.Stand{Infested: 400, Status: survey.Treated}, false, []string{LeaveStanding}},
		{"standing dead upland", stand.Stand{Infested: 400, Status: survey.StandingDead}, false, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			sub := Subject{Stand: &tt.stand, Zone: aquatic.Membership{InZone: tt.zone}}
			if diff := cmp.Diff(tt.want, For(sub, DefaultSettings()).Requirements); diff != "" {
				t.Errorf("requirements: (-want +got)\n%s", diff)
			}
		})
	}
}

// The requirement for work at the water is given in the user's own words.
func TestPermitIsSaidAsSet(t *testing.T) {
	s := DefaultSettings()
	s.Permit = "have the river board's notice signed"
	for _, zone := range []bool{true, false} {
		sub := Subject{Stand: &stand.Stand{Infested: 400}, Zone: aquatic.Membership{InZone: zone}}
		got := For(sub, s).Requirements
		if slices.Contains(got, s.Permit) != zone || slices.Contains(got, DefaultSettings().Permit) {
			t.Errorf("in the zone %v: %q", zone, got)
		}
	}
}

// Water use of half an acre in the zone at 80 % cover: 0.4 acre of canopy,
// 1.44 acre-feet (Triana et al. 2015: 1100 mm a season) to 19.2 (upper bound,
// common practice), by hand.
func TestWaterUseIsARange(t *testing.T) {
	sub := Subject{
		Stand: &stand.Stand{CoverPercent: 80},
		Zone:  aquatic.Membership{InZone: true, Area: geo.Acres(0.5).SquareMeters()},
	}
	plan := For(sub, DefaultSettings())
	if math.Abs(float64(plan.WaterUseLow)-1.44) > 1e-9 || math.Abs(float64(plan.WaterUseHigh)-19.2) > 1e-9 {
		t.Errorf("water use %g to %g acre-feet, want 1.44 to 19.2", plan.WaterUseLow, plan.WaterUseHigh)
	}
	// 1 acre-foot an acre is 304.8 mm, so 1100 mm is 3.609, printed 3.6
	if math.Abs(waterUseLow-1100/304.8) > 0.05 {
		t.Errorf("low rate %g is not 1100 mm", waterUseLow)
	}
}

func TestSettingsValidate(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Errorf("defaults: %v", err)
	}
	if err := (Settings{HandPull: 0, Permit: "have it"}).Validate(); err != nil {
		t.Errorf("no hand pulling: %v", err)
	}
	if err := (Settings{HandPull: 0.5, Permit: "have it"}).Validate(); err != nil {
		t.Errorf("half a square metre: %v", err)
	}
	for name, s := range map[string]Settings{
		"negative hand pull": {HandPull: -1, Permit: "have it"},
		"hand pull NaN":      {HandPull: geo.SquareMeters(math.NaN()), Permit: "have it"},
		"no words":           {HandPull: 1, Permit: " "},
		"a semicolon":        {HandPull: 1, Permit: "have it; have that"},
	} {
		if s.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
