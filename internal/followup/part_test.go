package followup

import (
	"math"
	"testing"

	"driftreach/internal/control"
	"driftreach/internal/survey"
)

// By hand: of 4 acres 1 treated is a quarter; work before the survey, none,
// and all of it.
func TestDone(t *testing.T) {
	work := func(days string, acres float64) control.Action {
		return control.Action{Date: day(days), TreatedAcres: acres}
	}
	for _, c := range []struct {
		name string
		work []control.Action
		want float64
	}{
		{"none", nil, 0},
		{"a quarter", []control.Action{work("2026-08-10", 1)}, 0.25},
		{"two days of it", []control.Action{work("2026-08-10", 1), work("2026-08-11", 1)}, 0.5},
		{"before the survey", []control.Action{work("2026-08-09", 1)}, 0},
		{"acres not told", []control.Action{work("2026-08-10", 1), work("2026-08-12", math.NaN())}, 1},
		{"nearly all", []control.Action{work("2026-08-10", 3.6)}, 1},
		{"more than all", []control.Action{work("2026-08-10", 9)}, 1},
	} {
		if got := done(c.work, day("2026-08-10"), 4); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A stand of 4 acres of which 1 was treated after the survey is two for the plan: the
// rest waits in the order, and what was treated is looked at again.
func TestTreatedInPart(t *testing.T) {
	sub := Subject{ID: "S", Present: true, Look: Found, Day: day("2026-08-01"), Acres: 4, Order: 2}
	site := Site{Quarter: quarter("2026Q3"), Subjects: []Subject{sub}, Settings: DefaultSettings(),
		Actions: []control.Action{{Date: day("2026-08-20"), StandID: "S", TreatedAcres: 1}}}
	rows, _, _ := Plan(site)
	r := rows[0]
	if r.State != ToTreat || r.Done != 0.25 || !r.Due.IsZero() || !r.Again.Equal(day("2027-08-20")) {
		t.Fatalf("%+v", r)
	}
	if got := r.What(site.Settings); got != "treat the rest, number 2 in the order; look again at what was treated by 2027-08-20" {
		t.Error(got)
	}
	// Nobody looks the quarter after: it stays two; found live, all of it grows again.
	sub.Look, sub.Earlier = Nobody, []string{"S"}
	rows, _, _ = Plan(Site{Quarter: quarter("2026Q4"), Subjects: []Subject{sub}, Before: rows, Since: day("2026-09-30"), Settings: site.Settings})
	if r := rows[0]; r.State != ToTreat || !r.Again.Equal(day("2027-08-20")) {
		t.Fatalf("%+v", r)
	}
	sub.Look, sub.Day, sub.Status = Found, day("2027-01-20"), survey.Untreated
	rows, _, _ = Plan(Site{Quarter: quarter("2027Q1"), Subjects: []Subject{sub}, Before: rows, Since: day("2026-12-31"), Settings: site.Settings})
	if r := rows[0]; r.State != TreatAgain || !r.Due.Equal(day("2027-05-30")) || !r.Again.Equal(day("2027-08-20")) {
		t.Fatalf("%+v", r)
	}
}
