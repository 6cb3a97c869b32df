package treatment

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"driftreach/geo"
	"driftreach/internal/aquatic"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

func day(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}

var thirdQuarter = survey.Quarter{Year: 2026, Number: 3}

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
			[]string{AquaticLabel, Proposal, NoHandRemoval, NoCutting},
		},
		{"small live upland", stand.Stand{Infested: 10, StemHeight: 1.5}, false, []string{HandPull, NoCutting}},
		{"small but with mature canes", stand.Stand{Infested: 9, StemHeight: 2}, false, []string{NoHandRemoval, NoCutting}},
		{"just above the hand-pull size", stand.Stand{Infested: 10.01, StemHeight: nan}, false, []string{NoHandRemoval, NoCutting}},
		{"height unknown", stand.Stand{Infested: 4, StemHeight: nan}, false, []string{HandPull, NoCutting}},
		{
			"regrowth in the zone", stand.Stand{Infested: 400, StemHeight: 1, Status: survey.Resprout}, true,
			[]string{AquaticLabel, Proposal, RetreatSeason, NoHandRemoval, NoCutting},
		},
		{"treated upland", stand.Stand{Infested: 400, Status: survey.Treated}, false, []string{LeaveStanding}},
		{"standing dead upland", stand.Stand{Infested: 400, Status: survey.StandingDead}, false, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			sub := Subject{Stand: &tt.stand, Zone: aquatic.Membership{InZone: tt.zone}}
			if diff := cmp.Diff(tt.want, For(sub, thirdQuarter, DefaultSettings()).Requirements); diff != "" {
				t.Errorf("requirements: (-want +got)\n%s", diff)
			}
		})
	}
}

func TestNextVisit(t *testing.T) {
	tests := []struct {
		name   string
		stand  stand.Stand
		months int
		want   time.Time
	}{
		{"treated, a year on", stand.Stand{Status: survey.Treated, Last: day("2026-08-14")}, 12, day("2027-08-14")},
		{"the day a month lacks becomes its last", stand.Stand{Status: survey.Treated, Last: day("2026-08-31")}, 6, day("2027-02-28")},
		{"date assumed: from the quarter's end", stand.Stand{Status: survey.Treated}, 1, day("2026-10-30")},
		{"regrowth this season", stand.Stand{Status: survey.Resprout, Last: day("2026-07-02")}, 12, day("2026-09-30")},
		{"standing dead is looked at like treated", stand.Stand{Status: survey.StandingDead, Last: day("2026-07-02")}, 12, day("2027-07-02")},
		{"untreated waits for treatment", stand.Stand{Last: day("2026-07-02")}, 12, time.Time{}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			plan := For(Subject{Stand: &tt.stand}, thirdQuarter, Settings{RevisitMonths: tt.months})
			if !plan.NextVisit.Equal(tt.want) {
				t.Errorf("next visit %v, want %v", plan.NextVisit, tt.want)
			}
		})
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
	plan := For(sub, thirdQuarter, DefaultSettings())
	if math.Abs(plan.WaterUseLow-1.44) > 1e-9 || math.Abs(plan.WaterUseHigh-19.2) > 1e-9 {
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
	for name, s := range map[string]Settings{
		"negative hand pull": {HandPull: -1, RevisitMonths: 12},
		"hand pull NaN":      {HandPull: geo.SquareMeters(math.NaN()), RevisitMonths: 12},
		"no months":          {HandPull: 10},
	} {
		if s.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
