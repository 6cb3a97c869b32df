package followup

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// TestOrderOfRows: first due first, those without a due day next, by their place in the order, then
// those without a place, by id. By hand: rows of the last batch whose stands are not among the
// subjects.
func TestOrderOfRows(t *testing.T) {
	in := []Row{
		{StandID: "c", State: Watch, Due: day("2026-09-01")}, {StandID: "b", State: Watch, Due: day("2026-09-01")}, {StandID: "z", State: LookAgain, Due: day("2026-01-01")},
		{StandID: "a", State: TreatAgain, Due: day("2027-03-01")}, {StandID: "y", State: Released}, {StandID: "x", State: Released},
	}
	subjects := []Subject{{ID: "p", Present: true, Order: 2, Look: Found}, {ID: "q", Present: true, Order: 1, Look: Found}, {ID: "n", Present: true, Look: Found}}
	dice := rand.New(rand.NewPCG(1, 1))
	for range 10 {
		rows, _, _ := Schedule(Site{Quarter: quarter("2026Q3"), Subjects: subjects, Before: in, Settings: DefaultSettings()})
		var ids []string
		for i := range rows {
			ids = append(ids, rows[i].StandID)
		}
		if got := strings.Join(ids, ""); got != "zbcaqpnxy" {
			t.Fatal(got)
		}
		dice.Shuffle(len(in), func(i, j int) { in[i], in[j] = in[j], in[i] })
		dice.Shuffle(len(subjects), func(i, j int) { subjects[i], subjects[j] = subjects[j], subjects[i] })
	}
	for _, c := range []struct {
		a, b Row
		want int
	}{
		{Row{Due: day("2026-01-01")}, Row{}, -1}, {Row{}, Row{Due: day("2026-01-01")}, 1}, {Row{Due: day("2026-01-01")}, Row{Due: day("2026-01-02")}, -1}, {Row{Order: 1}, Row{}, -1}, {Row{}, Row{Order: 1}, 1},
		{Row{Order: 3}, Row{Order: 2}, 1}, {Row{StandID: "a"}, Row{StandID: "b"}, -1}, {Row{StandID: "a"}, Row{StandID: "a"}, 0}, {Row{Due: day("2026-01-01"), Order: 2}, Row{Due: day("2026-01-01"), Order: 1, StandID: "a"}, 1},
	} {
		if got := byDue(c.a, c.b); got != c.want {
			t.Errorf("%+v beside %+v: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// TestNameOfSeveral: work that names the stand two stands came from was done on the ground of the
// nearest, though it counts for both; a stand without a footprint is never the nearest; work
// without a position was done on all. By hand.
func TestNameOfSeveral(t *testing.T) {
	frame := earth.NewFrame(places["south"])
	a, b, c := square(frame, "A", 0, 0, 50), square(frame, "B", 200, 0, 50), square(frame, "C", 0, 0, 1)
	c.Footprint = nil
	for i, sub := range []*Subject{&a, &b, &c} {
		sub.Earlier = []string{sub.ID, "Z"}
		sub.Order = i + 1
	}
	for _, test := range []struct {
		at     orb.Point
		placed bool
		want   []string
	}{{orb.Point{10, 0}, true, []string{"A"}}, {orb.Point{140, 0}, true, []string{"B"}}, {orb.Point{900, 0}, true, []string{"B"}}, {orb.Point{}, false, []string{"A", "B", "C"}}} {
		rows, done, findings := Schedule(Site{Quarter: quarter("2026Q3"), Subjects: []Subject{a, b, c}, Settings: DefaultSettings(), Before: []Row{{StandID: "Z"}}, Actions: []treatment.Treatment{
			{Date: day("2026-07-02"), StandID: "Z", Placed: test.placed, Position: frame.Inverse(test.at)},
		}})
		if !slices.Equal(done[0], test.want) || worked(rows) != "ABC" || len(findings) > 0 {
			t.Errorf("work at %v was done on %v and counts for %q, %v", test.at, done[0], worked(rows), findings)
		}
	}
}

// TestToldOnce: work that an earlier batch knew on two stands, which grew into one, counts once for
// it. By hand: 1 of 4 acres.
func TestToldOnce(t *testing.T) {
	work := treatment.Treatment{Date: day("2026-08-20"), TreatedAcres: 1}
	sub := Subject{ID: "N", Earlier: []string{"A", "B"}, Present: true, Look: Nobody, Acres: 4}
	rows, _, _ := Schedule(Site{
		Quarter: quarter("2026Q4"), Subjects: []Subject{sub}, Since: day("2026-09-30"), Settings: DefaultSettings(), Told: []Told{{work, []string{"A", "B", "gone"}}},
		Before: []Row{{StandID: "A", LastLook: day("2026-08-01"), LastSeen: day("2026-08-01"), Work: Work{Days: 1, Last: day("2026-08-20")}}, {StandID: "B", LastLook: day("2026-07-01"), LastSeen: day("2026-07-01")}},
	})
	if got := rows[0].Done; got.Share != 0.25 || got.ByAcres != 0.25 {
		t.Errorf("%+v", got)
	}
}

// TestRegrowthTreatedInPart: regrowth treated in part keeps its due day, and has a day to look at
// the treated part; treated wholly, it is looked at again. By hand.
func TestRegrowthTreatedInPart(t *testing.T) {
	before := []Row{{StandID: "S", State: TreatAgain, Due: day("2026-11-29"), Status: survey.Resprout, LastSeen: day("2026-08-01"), LastLook: day("2026-08-01")}}
	for acres, want := range map[float64]Row{
		1:          {State: TreatAgain, Due: day("2026-11-29"), Again: day("2027-10-20")},
		4:          {State: LookAgain, Due: day("2027-10-20")},
		math.NaN(): {State: LookAgain, Due: day("2027-10-20")},
	} {
		rows, _, _ := Schedule(Site{
			Quarter: quarter("2026Q4"), Before: before, Since: day("2026-09-30"), Settings: DefaultSettings(),
			Subjects: []Subject{{ID: "S", Earlier: []string{"S"}, Present: true, Look: Nobody, Acres: 4}},
			Actions:  []treatment.Treatment{{Date: day("2026-10-20"), StandID: "S", TreatedAcres: acres}},
		})
		if r := rows[0]; r.State != want.State || !r.Due.Equal(want.Due) || !r.Again.Equal(want.Again) {
			t.Errorf("%g acres: %s, due %v, again %v", acres, r.State, r.Due, r.Again)
		}
	}
}

// TestNoJoinDistance: with a join distance of 0, work counts only for the stand in which it is.
func TestNoJoinDistance(t *testing.T) {
	frame := earth.NewFrame(places["south"])
	s := DefaultSettings()
	s.JoinDistance = 0
	for x, want := range map[float64]string{0: "A", 49: "A", 51: ""} {
		rows, _, _ := Schedule(Site{Quarter: quarter("2026Q3"), Subjects: []Subject{square(frame, "A", 0, 0, 50)}, Settings: s, Actions: []treatment.Treatment{
			{Date: day("2026-07-02"), Placed: true, Position: frame.Inverse(orb.Point{x, 0})},
		}})
		if got := worked(rows); got != want {
			t.Errorf("work %g m from the middle counts for %q, want %q", x, got, want)
		}
	}
	if s.Validate() != nil {
		t.Error(s.Validate())
	}
}

// TestSettingsOfTheYear: the limits of each range are accepted; by hand.
func TestSettingsOfTheYear(t *testing.T) {
	for _, s := range []Settings{{RevisitMonths: 1, ClearYears: 1, Season: [2]int{1, 12}, RetreatDays: 1}, {RevisitMonths: 99, ClearYears: 50, Season: [2]int{12, 1}, RetreatDays: 400, JoinDistance: 0.5}} {
		if err := s.Validate(); err != nil {
			t.Errorf("%+v: %v", s, err)
		}
	}
	for _, season := range [][2]int{{0, 5}, {5, 0}, {13, 5}, {5, 13}} {
		s := DefaultSettings()
		if s.Season = season; s.Validate() == nil {
			t.Errorf("a season from month %d to %d is taken", season[0], season[1])
		}
	}
	if got := DefaultSettings(); got != (Settings{RevisitMonths: 12, ClearYears: 5, Season: [2]int{3, 11}, RetreatDays: 60, JoinDistance: 30}) {
		t.Errorf("%+v", got)
	}
}

// TestDayOfWork: of several pieces of work on one day, the one whose method sorts first is
// reported, in any order of the rows, and the day counts once; with equal methods, the formulation
// class decides. By hand.
func TestDayOfWork(t *testing.T) {
	piece := func(date, method, class string) treatment.Treatment {
		return treatment.Treatment{Date: day(date), StandID: "S", Method: method, FormulationClass: class, TreatedAcres: math.NaN()}
	}
	pieces := []treatment.Treatment{piece("2026-08-20", "cut", "b"), piece("2026-08-21", "cut", "b"), piece("2026-08-21", "cut", "a"), piece("2026-08-20", "burn", "c")}
	for range len(pieces) {
		pieces = append(pieces[1:], pieces[0])
		rows, _, _ := Schedule(Site{Quarter: quarter("2026Q3"), Settings: DefaultSettings(), Actions: pieces, Subjects: []Subject{{ID: "S", Present: true, Look: Found, Day: day("2026-08-01"), Acres: 1}}})
		if got := rows[0].Work; got != (Work{Days: 2, Last: day("2026-08-21"), Method: "cut", FormulationClass: "a"}) {
			t.Errorf("%+v", got)
		}
	}
}

// TestLookAtWhatWasTreated: the look again at the treated part of what grows again is there until somebody
// looks on its day or later, and no more once all of the stand is to be looked at. By hand.
func TestLookAtWhatWasTreated(t *testing.T) {
	before := Row{
		StandID: "S", State: TreatAgain, Due: day("2026-11-29"), Again: day("2027-08-20"), Status: survey.Untreated,
		LastSeen: day("2026-09-01"), LastLook: day("2026-09-01"), Work: Work{Days: 1, Last: day("2026-08-20")},
	}
	for _, c := range []struct {
		seen   string
		status survey.Status
		want   Row
	}{
		{"2027-08-19", survey.Untreated, Row{State: TreatAgain, Due: day("2026-11-29"), Again: day("2027-08-20")}},
		{"2027-08-20", survey.Untreated, Row{State: TreatAgain, Due: day("2026-11-29")}},
		{"2027-08-21", survey.Resprout, Row{State: TreatAgain, Due: day("2026-11-29")}},
		{"2027-07-20", survey.StandingDead, Row{State: LookAgain, Due: day("2028-07-20")}},
	} {
		rows, _, _ := Schedule(Site{
			Quarter: quarter("2027Q3"), Before: []Row{before}, Since: day("2027-06-30"), Settings: DefaultSettings(),
			Subjects: []Subject{{ID: "S", Earlier: []string{"S"}, Present: true, Look: Found, Day: day(c.seen), Status: c.status, Acres: 1}},
		})
		if r := rows[0]; r.State != c.want.State || !r.Due.Equal(c.want.Due) || !r.Again.Equal(c.want.Again) {
			t.Errorf("seen on %s, %s: %s, due %v, again %v", c.seen, c.status, r.State, r.Due, r.Again)
		}
	}
}

// TestPartOfTheDead: where a stand is dead, and work drawn after that treated a part of it, all of it is
// looked at again, at one place; how much was treated is still told. By hand, half of a square.
func TestPartOfTheDead(t *testing.T) {
	frame := earth.NewFrame(places["south"])
	for status, state := range map[survey.Status]State{survey.StandingDead: LookAgain, survey.Untreated: ToTreat} {
		sub := square(frame, "A", 0, 0, 50)
		sub.Acres, sub.Day, sub.Status = 10_000/4046.8564224, day("2026-08-01"), status
		rows, _, _ := Schedule(Site{Quarter: quarter("2026Q3"), Subjects: []Subject{sub}, Settings: DefaultSettings(), Actions: []treatment.Treatment{
			{Date: day("2026-08-20"), StandID: "A", Ground: area(frame, -50, -50, 50, 0), TreatedAcres: math.NaN()},
		}})
		r := rows[0]
		divided := state == ToTreat
		if r.State != state || math.Abs(r.Done.Share-0.5) > 1e-5 || (r.Done.Cut != nil) != divided || (r.Place.Position != sub.Place.Position) != divided {
			t.Errorf("%s: %s, %+v at %v", status, r.State, r.Done, r.Place.Position)
		}
	}
}
