package followup

import (
	"strings"
	"testing"

	"driftreach/internal/survey"
)

// Sentences by hand from the rules. None says that the plant is gone for good: only the follow-up
// ends.
func TestWords(t *testing.T) {
	worked := Work{Days: 1, Last: day("2026-08-01")}
	for _, tt := range []struct {
		name, what, why string
		row             Row
	}{
		{"never treated", "treat, number 4 in the order", "not treated yet", Row{Order: 4, LastSeen: day("2026-07-01")}},
		{"never treated, off the map", "treat", "not treated yet; nobody saw its ground this quarter", Row{Look: Nobody}},
		{"growing again", "treat the regrowth again by 2026-11-29; look again by 2027-08-01 at what was treated", "treated on 2026-08-01, growing again on 2026-08-09",
			Row{State: TreatAgain, Order: 4, Due: day("2026-11-29"), Again: day("2027-08-01"), LastSeen: day("2026-08-09"), Work: worked}},
		{"growing again, the look comes first", "look again by 2026-08-01 at what was treated; treat the regrowth again by 2026-11-29", "treated on 2025-08-01, growing again on 2026-07-09",
			Row{State: TreatAgain, Order: 4, Due: day("2026-11-29"), Again: day("2026-08-01"), LastSeen: day("2026-07-09"), Work: Work{Days: 1, Last: day("2025-08-01")}}},
		{"growing again, the day of the work not known", "treat the regrowth again by 2026-11-29", "treated, growing again on 2026-08-09",
			Row{State: TreatAgain, Due: day("2026-11-29"), LastSeen: day("2026-08-09")}},
		{"treated", "look again by 2027-08-01", "treated on 2026-08-01", Row{State: LookAgain, Due: day("2027-08-01"), LastSeen: day("2026-07-09"), Work: worked}},
		{"treated, the day not known", "look again by 2027-07-09", "seen as treated on 2026-07-09", Row{State: LookAgain, Due: day("2027-07-09"), LastSeen: day("2026-07-09"), Status: survey.Treated}},
		{"dead", "look again by 2027-11-09", "standing dead on 2026-11-09", Row{State: LookAgain, Due: day("2027-11-09"), LastSeen: day("2026-11-09"), Status: survey.StandingDead, Work: worked}},
		{"regrown, after it was thought gone", "treat the regrowth again by 2026-09-30", "regrowth on 2026-07-09; found again after 1 clear look", Row{State: TreatAgain, Due: day("2026-09-30"), LastSeen: day("2026-07-09"), Status: survey.Resprout, Lost: 1}},
		{"not found", "look again by 2027-07-09: clear in 2 of 5 years", "not found on 2026-08-09, clear since 2025-07-01",
			Row{State: Watch, Due: day("2027-07-09"), LastLook: day("2026-08-09"), Clear: Clear{Since: day("2025-07-01"), Last: day("2026-07-09"), Years: 2}}},
		{"released", "released from follow-up", "clear in 5 years in a row, since 2021-07-01", Row{State: Released, Clear: Clear{Since: day("2021-07-01"), Years: 5}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := DefaultSettings()
			if got := tt.row.What(s); got != tt.what {
				t.Errorf("what: %q, want %q", got, tt.what)
			}
			if got := strings.Join(tt.row.Why(s), "; "); got != tt.why {
				t.Errorf("why: %q, want %q", got, tt.why)
			}
		})
	}
}

func TestWordsAreReadBack(t *testing.T) {
	for s := ToTreat; s <= Released; s++ {
		if got, ok := parseState(s.String()); got != s || !ok {
			t.Errorf("%s is read as %s", s, got)
		}
	}
	for _, l := range []Look{Found, NotFound, Nobody} {
		if got, ok := parseLook(l.String()); got != l || !ok {
			t.Errorf("%s is read as %s", l, got)
		}
	}
}

func TestSettingsValidate(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Error(err)
	}
	for name, change := range map[string]func(*Settings){
		"months":  func(s *Settings) { s.RevisitMonths = 0 },
		"years":   func(s *Settings) { s.ClearYears = 0 },
		"season":  func(s *Settings) { s.Season[1] = 13 },
		"retreat": func(s *Settings) { s.RetreatDays = 0 },
		"join":    func(s *Settings) { s.JoinDistance = -1 },
	} {
		s := DefaultSettings()
		if change(&s); s.Validate() == nil || !strings.Contains(s.Validate().Error(), name) {
			t.Errorf("%s: %v", name, s.Validate())
		}
	}
}
