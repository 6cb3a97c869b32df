package followup

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// TestWordsOfAPart: how the treated part is known; by hand.
func TestWordsOfAPart(t *testing.T) {
	rest := orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}
	row := Row{Order: 2, Again: day("2027-08-01"), Work: Work{Days: 1, Last: day("2026-08-01")}}
	for _, test := range []struct {
		done Part
		why  string
	}{
		{Part{}, "treated in part on 2026-08-01"},
		{Part{Share: 0.4, ByAcres: 0.4}, "treated in part on 2026-08-01, by its acres: nobody knows which ground of the stand"},
		{Part{Share: 0.4, Cut: &Cut{Rest: rest}}, "treated in part on 2026-08-01, by the area drawn"},
		{Part{Share: 0.4, ByAcres: 0.1, Cut: &Cut{Rest: rest}}, "treated in part on 2026-08-01, by the area drawn, and by acres whose ground nobody knows"},
	} {
		row.Done = test.done
		s := DefaultSettings()
		if got := strings.Join(row.Why(s), "; "); got != test.why {
			t.Errorf("%q, want %q", got, test.why)
		}
		if got, want := row.What(s), "treat the rest, number 2 in the order; look again by 2027-08-01 at what was treated"; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	row = Row{State: TreatAgain, Due: day("2026-11-29"), Again: day("2026-11-29"), Lost: 2}
	if got, want := row.What(DefaultSettings()), "treat the regrowth again by 2026-11-29"; got != want { // the look comes with the work
		t.Errorf("%q, want %q", got, want)
	}
	if got := row.Why(DefaultSettings()); len(got) != 2 || got[1] != "found again after 2 clear looks" {
		t.Error(got)
	}
}

// TestWhatWaits: of a stand with 0.4 treated, known by acres, 0.6 waits; known by area, all of the
// rest; of 0.4 with 0.1 known by acres, 0.6 of the 0.7 outside the area; of a wholly treated stand
// nothing; by hand.
func TestWhatWaits(t *testing.T) {
	for p, want := range map[*Part]float64{
		{}: 1, {Share: 0.4, ByAcres: 0.4}: 0.6, {Share: 0.4}: 1, {Share: 0.4, ByAcres: 0.1}: 6. / 7, {Share: 1}: 0, {Share: 1, ByAcres: 0.5}: 0, {Share: 0.99, ByAcres: 0.99}: 0.01,
	} {
		if got := p.Waits(); math.Abs(got-want) > 1e-12 {
			t.Errorf("%+v: %g waits, want %g", p, got, want)
		}
	}
}

// TestDaysOverdueToTheDay: by hand.
func TestDaysOverdueToTheDay(t *testing.T) {
	for due, want := range map[string]int{"2026-09-30": 0, "2026-10-01": 0, "2026-09-29": 1, "2025-09-30": 365, "2024-02-28": 945} {
		r := Row{Due: day(due)}
		if got := r.DaysOverdue(day("2026-09-30")); got != want {
			t.Errorf("due on %s: %d days, want %d", due, got, want)
		}
	}
	if (&Row{}).DaysOverdue(day("2026-09-30")) != 0 {
		t.Error("what has no day is overdue")
	}
}

// TestWordsOfNoState: an invalid state is written like the first one, and is not read back.
func TestWordsOfNoState(t *testing.T) {
	if State(9).String() != "to_treat" || Look(9).String() != "nobody_looked" {
		t.Error(State(9), Look(9))
	}
	if _, ok := parseState("done"); ok {
		t.Error("done is a state")
	}
	if _, ok := parseLook(""); ok {
		t.Error("nothing is a look")
	}
	codes := map[string]bool{}
	for _, r := range Rules() {
		if r.Code == "" || r.Remedy == "" || codes[r.Code] {
			t.Errorf("%+v", r)
		}
		codes[r.Code] = true
	}
}
