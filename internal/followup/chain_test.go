package followup

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

func day(s string) time.Time {
	if s == "" {
		return time.Time{}
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}

func quarter(s string) survey.Quarter {
	q, err := survey.ParseQuarter(s)
	if err != nil {
		panic(err)
	}
	return q
}

// step is one quarter of one stand's story.
type step struct {
	quarter string
	look    Look
	day     string // of the look
	status  survey.Status
	work    string // days of all known work, separated by blanks
	want    string // state, due, clear looks, days of work, days overdue
}

// tell runs a story and returns the result of each quarter.
func tell(s Settings, story []step) (got, want []string) {
	var before []Row
	since := time.Time{}
	for i, st := range story {
		q := quarter(st.quarter)
		sub := Subject{ID: "S", Present: st.look == Found || st.look == Nobody && i > 0 && before[0].Present, Look: st.look, Day: day(st.day), Status: st.status}
		if i > 0 {
			sub.Earlier = []string{"S"}
		}
		var actions []treatment.Treatment
		for _, d := range strings.Fields(st.work) {
			actions = append(actions, treatment.Treatment{Date: day(d), StandID: "S"})
		}
		rows, _, _ := Schedule(Site{Quarter: q, Subjects: []Subject{sub}, Before: before, Since: since, Actions: actions, Settings: s})
		r := rows[0]
		due := "never"
		if !r.Due.IsZero() {
			due = r.Due.Format(time.DateOnly)
		}
		got = append(got, fmt.Sprintf("%s %s %s, clear %d, work %d, overdue %d", st.quarter, r.State, due, r.Clear.Years, r.Work.Days, r.DaysOverdue(q.End())))
		want = append(want, st.quarter+" "+st.want)
		before, since = rows, q.End()
	}
	return got, want
}

const found, not, nobody = Found, NotFound, Nobody

// stories have results worked out by hand from the rules in the package comment.
var stories = []struct {
	name  string
	story []step
}{
	{"treated, dead, regrown, treated, clear five years, released", []step{
		{"2024Q3", found, "2024-07-10", survey.Untreated, "", "to_treat never, clear 0, work 0, overdue 0"},
		{"2024Q4", nobody, "", 0, "2024-10-20", "look_again 2025-10-20, clear 0, work 1, overdue 0"},
		{"2025Q3", found, "2025-08-01", survey.StandingDead, "2024-10-20", "look_again 2026-08-01, clear 0, work 1, overdue 0"},
		{"2026Q2", found, "2026-05-05", survey.Resprout, "", "treat_again 2026-08-29, clear 0, work 1, overdue 0"},
		{"2026Q3", found, "2026-07-20", survey.Treated, "2026-07-01", "look_again 2027-07-01, clear 0, work 2, overdue 0"},
		{"2027Q2", not, "2027-06-10", 0, "", "watch 2028-06-10, clear 1, work 2, overdue 0"},
		{"2028Q2", not, "2028-05-31", 0, "", "watch 2029-05-31, clear 2, work 2, overdue 0"},
		{"2029Q2", not, "2029-04-02", 0, "", "watch 2030-04-02, clear 3, work 2, overdue 0"},
		{"2030Q2", not, "2030-06-30", 0, "", "watch 2031-06-30, clear 4, work 2, overdue 0"},
		{"2031Q2", not, "2031-06-01", 0, "", "released never, clear 5, work 2, overdue 0"},
		{"2031Q3", nobody, "", 0, "", "released never, clear 5, work 2, overdue 0"},
	}},
	{"found again in the third year: the row begins again", []step{
		{"2024Q3", found, "2024-07-10", survey.Treated, "2024-07-01", "look_again 2025-07-01, clear 0, work 1, overdue 0"},
		{"2025Q3", not, "2025-07-10", 0, "", "watch 2026-07-10, clear 1, work 1, overdue 0"},
		{"2026Q3", not, "2026-07-10", 0, "", "watch 2027-07-10, clear 2, work 1, overdue 0"},
		{"2027Q3", found, "2027-07-10", survey.Resprout, "", "treat_again 2027-11-29, clear 0, work 1, overdue 0"},
		{"2028Q3", not, "2028-07-10", 0, "2027-09-01", "watch 2029-07-10, clear 1, work 2, overdue 0"},
	}},
	{"a year nobody looked neither counts nor breaks the row, and is overdue", []step{
		{"2025Q3", found, "2025-07-10", survey.Treated, "", "look_again 2026-07-10, clear 0, work 0, overdue 0"},
		{"2026Q3", not, "2026-08-10", 0, "", "watch 2027-08-10, clear 1, work 0, overdue 0"},
		{"2027Q3", nobody, "", 0, "", "watch 2027-08-10, clear 1, work 0, overdue 51"}, // 21 days of August, 30 of September
		{"2028Q3", not, "2028-08-10", 0, "", "watch 2029-08-10, clear 2, work 0, overdue 0"},
	}},
	{"four looks in a year are one clear year", []step{
		{"2025Q4", found, "2025-10-10", survey.Treated, "", "look_again 2026-10-10, clear 0, work 0, overdue 0"},
		{"2026Q1", not, "2026-02-01", 0, "", "watch 2027-02-01, clear 1, work 0, overdue 0"},
		{"2026Q2", not, "2026-05-01", 0, "", "watch 2027-02-01, clear 1, work 0, overdue 0"},
		{"2026Q4", not, "2026-11-01", 0, "", "watch 2027-02-01, clear 1, work 0, overdue 0"},
		{"2027Q1", not, "2027-01-02", 0, "", "watch 2028-01-02, clear 2, work 0, overdue 0"}, // 335 days later, but four quarters
	}},
	{"regrowth stays due until somebody treats it", []step{
		{"2026Q1", found, "2026-02-02", survey.Resprout, "2025-09-09", "treat_again 2026-05-30, clear 0, work 1, overdue 0"},
		{"2026Q2", found, "2026-05-02", survey.Resprout, "", "treat_again 2026-05-30, clear 0, work 1, overdue 31"}, // to June 30
		{"2026Q3", found, "2026-08-02", survey.Untreated, "", "treat_again 2026-05-30, clear 0, work 1, overdue 123"},
		{"2026Q4", found, "2026-10-02", survey.Resprout, "2026-11-02", "look_again 2027-11-02, clear 0, work 2, overdue 0"},
	}},
	{"the same file of work every quarter counts once", []step{
		{"2026Q1", found, "2026-02-02", survey.Treated, "2025-05-05 2026-01-15", "look_again 2027-01-15, clear 0, work 2, overdue 0"},
		{"2026Q2", found, "2026-05-02", survey.Treated, "2025-05-05 2026-01-15", "look_again 2027-01-15, clear 0, work 2, overdue 0"},
		{"2026Q3", nobody, "", 0, "2025-05-05 2026-01-15", "look_again 2027-01-15, clear 0, work 2, overdue 0"},
	}},
	{"work after the survey of the quarter wins over the record", []step{
		{"2026Q1", found, "2026-02-02", survey.Untreated, "2026-02-02", "look_again 2027-02-02, clear 0, work 1, overdue 0"},
		{"2026Q2", found, "2026-05-05", survey.Untreated, "", "treat_again 2026-08-29, clear 0, work 1, overdue 0"},
	}},
	{"work in the course of a row of clear looks begins it again", []step{
		{"2025Q3", found, "2025-07-10", survey.Treated, "", "look_again 2026-07-10, clear 0, work 0, overdue 0"},
		{"2026Q3", not, "2026-08-10", 0, "", "watch 2027-08-10, clear 1, work 0, overdue 0"},
		{"2027Q2", nobody, "", 0, "2027-05-01", "look_again 2028-05-01, clear 0, work 1, overdue 0"},
		{"2027Q3", not, "2027-08-10", 0, "", "watch 2028-08-10, clear 1, work 1, overdue 0"},
		{"2028Q3", not, "2028-08-10", 0, "2028-08-01", "watch 2029-08-10, clear 1, work 2, overdue 0"},
	}},
	{"a look on the day of the work, or before it, is no clear look", []step{
		{"2025Q3", found, "2025-07-10", survey.Untreated, "", "to_treat never, clear 0, work 0, overdue 0"},
		{"2026Q3", not, "2026-08-10", 0, "2026-08-10", "look_again 2027-08-10, clear 0, work 1, overdue 0"},
	}},
	{"work told of late", []step{
		{"2026Q1", found, "2026-02-10", survey.Untreated, "", "to_treat never, clear 0, work 0, overdue 0"},
		{"2026Q2", nobody, "", 0, "2026-01-05", "treat_again 2026-08-29, clear 0, work 1, overdue 0"},
		{"2026Q3", not, "2026-08-10", 0, "", "watch 2027-08-10, clear 1, work 1, overdue 0"},
		{"2026Q4", nobody, "", 0, "2026-08-05", "watch 2027-08-10, clear 1, work 2, overdue 0"},
		{"2027Q1", nobody, "", 0, "2026-09-05", "look_again 2027-09-05, clear 0, work 3, overdue 0"},
	}},
	{"seen as treated, and live in the next quarter: growing again", []step{
		{"2026Q1", found, "2026-02-10", survey.Treated, "", "look_again 2027-02-10, clear 0, work 0, overdue 0"},
		{"2026Q2", found, "2026-05-10", survey.Untreated, "", "treat_again 2026-08-29, clear 0, work 0, overdue 0"},
		{"2026Q3", found, "2026-08-10", survey.Untreated, "", "treat_again 2026-08-29, clear 0, work 0, overdue 32"},
		{"2026Q4", found, "2026-10-10", survey.Treated, "", "look_again 2027-10-10, clear 0, work 0, overdue 0"},
	}},
	{"an old record in a later quarter moves nothing back", []step{
		{"2026Q1", found, "2026-02-10", survey.Treated, "", "look_again 2027-02-10, clear 0, work 0, overdue 0"},
		{"2026Q2", found, "2025-06-10", survey.Treated, "", "look_again 2027-02-10, clear 0, work 0, overdue 0"},
	}},
	{"never treated, and seen again and again", []step{
		{"2026Q1", found, "2026-02-10", survey.Untreated, "", "to_treat never, clear 0, work 0, overdue 0"},
		{"2026Q2", found, "2026-05-10", survey.Untreated, "", "to_treat never, clear 0, work 0, overdue 0"},
		{"2026Q3", nobody, "", 0, "", "to_treat never, clear 0, work 0, overdue 0"},
		{"2026Q4", found, "2026-11-10", survey.Resprout, "", "treat_again 2027-04-29, clear 0, work 0, overdue 0"},
	}},
	{"dead in the quarter of the work: the look of the work is still to come", []step{
		{"2026Q3", found, "2026-08-20", survey.StandingDead, "2026-08-01", "look_again 2027-08-01, clear 0, work 1, overdue 0"},
		{"2026Q4", found, "2026-11-20", survey.StandingDead, "", "look_again 2027-11-20, clear 0, work 1, overdue 0"},
	}},
	{"seen as treated before the day it is due, and on it", []step{
		{"2026Q3", found, "2026-08-20", survey.Treated, "2026-08-01", "look_again 2027-08-01, clear 0, work 1, overdue 0"},
		{"2027Q3", found, "2027-07-31", survey.Treated, "", "look_again 2027-08-01, clear 0, work 1, overdue 60"},
		{"2027Q4", found, "2027-10-02", survey.Treated, "", "look_again 2028-10-02, clear 0, work 1, overdue 0"},
	}},
	{"seen as treated just on the day it is due", []step{
		{"2026Q3", found, "2026-08-20", survey.Treated, "2026-08-01", "look_again 2027-08-01, clear 0, work 1, overdue 0"},
		{"2027Q3", found, "2027-08-01", survey.Treated, "", "look_again 2028-08-01, clear 0, work 1, overdue 0"},
	}},
	{"work told of late about what is looked at again anyway, or grows again", []step{
		{"2026Q1", found, "2026-02-10", survey.Treated, "", "look_again 2027-02-10, clear 0, work 0, overdue 0"},
		{"2026Q2", nobody, "", 0, "2026-01-05", "look_again 2027-02-10, clear 0, work 1, overdue 0"},
		{"2026Q3", found, "2026-08-10", survey.Resprout, "", "treat_again 2026-11-29, clear 0, work 1, overdue 0"},
		{"2026Q4", nobody, "", 0, "2026-06-05", "treat_again 2026-11-29, clear 0, work 2, overdue 32"},
	}},
	{"work told of late in the course of two clear years", []step{
		{"2025Q3", found, "2025-07-10", survey.Treated, "", "look_again 2026-07-10, clear 0, work 0, overdue 0"},
		{"2026Q3", not, "2026-08-10", 0, "", "watch 2027-08-10, clear 1, work 0, overdue 0"},
		{"2027Q3", not, "2027-08-10", 0, "", "watch 2028-08-10, clear 2, work 0, overdue 0"},
		{"2027Q4", nobody, "", 0, "2027-05-01", "watch 2028-08-10, clear 1, work 1, overdue 0"},
		{"2028Q3", not, "2028-08-10", 0, "", "watch 2029-08-10, clear 2, work 1, overdue 0"},
		{"2028Q4", nobody, "", 0, "2025-08-01 2027-08-10", "watch 2029-08-10, clear 1, work 2, overdue 0"}, // on the day of the first clear look: it begins again
	}},
	{"dates assumed: from the quarter's end; the day a month lacks becomes its last", []step{
		{"2024Q1", found, "2024-02-29", survey.Treated, "", "look_again 2025-02-28, clear 0, work 0, overdue 0"},
		{"2024Q4", found, "", survey.Treated, "", "look_again 2025-12-31, clear 0, work 0, overdue 0"},
		{"2025Q4", not, "", 0, "", "watch 2026-12-31, clear 1, work 0, overdue 0"},
		{"2026Q4", nobody, "", 0, "", "watch 2026-12-31, clear 1, work 0, overdue 0"}, // due on the last day: not overdue yet
		{"2027Q1", nobody, "", 0, "", "watch 2026-12-31, clear 1, work 0, overdue 90"},
	}},
}

func TestStories(t *testing.T) {
	for _, tt := range stories {
		t.Run(tt.name, func(t *testing.T) {
			got, want := tell(DefaultSettings(), tt.story)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// TestReleasedIsFoundAgain: no batch forgets a released stand, and follow-up begins again when it
// is found.
func TestReleasedIsFoundAgain(t *testing.T) {
	s := DefaultSettings()
	s.ClearYears = 1
	got, want := tell(s, []step{
		{"2026Q1", Found, "2026-02-10", survey.Treated, "", "look_again 2027-02-10, clear 0, work 0, overdue 0"},
		{"2026Q2", NotFound, "2026-05-10", 0, "", "released never, clear 1, work 0, overdue 0"},
		{"2027Q2", NotFound, "2027-05-10", 0, "", "released never, clear 2, work 0, overdue 0"},
		{"2027Q3", Found, "2027-08-10", survey.Untreated, "", "treat_again 2027-11-29, clear 0, work 0, overdue 0"},
	})
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// Over random stories: no visit is due before the event it follows, days of work never decrease,
// clear looks rise by at most one and only after a look that found nothing, and a stand is released
// only after the set number of them, each four quarters or more apart.
func TestAnyStory(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := DefaultSettings()
		s.RevisitMonths = rapid.IntRange(1, 24).Draw(t, "months")
		s.ClearYears = rapid.IntRange(1, 6).Draw(t, "years")
		q := survey.Quarter{Year: 2024, Number: 1}
		var before []Row
		var since time.Time
		counted := []int{} // quarters of the clear looks in a row, counted here
		for i := range rapid.IntRange(1, 30).Draw(t, "quarters") {
			if i > 0 && rapid.IntRange(0, 5).Draw(t, "gap") == 0 {
				q = q.Next()
			}
			inside := func(name string) time.Time { return q.Begin().AddDate(0, 0, rapid.IntRange(0, 89).Draw(t, name)) }
			sub := Subject{ID: "S", Look: Found, Day: inside("day"), Status: rapid.SampledFrom(survey.Statuses()).Draw(t, "status")}
			if i > 0 {
				sub.Earlier = []string{"S"}
				sub.Look = rapid.SampledFrom([]Look{Found, NotFound, NotFound, NotFound, Nobody}).Draw(t, "look")
			}
			var actions []treatment.Treatment
			if rapid.IntRange(0, 8).Draw(t, "work") == 0 {
				actions = []treatment.Treatment{{Date: inside("worked"), StandID: "S"}}
			}
			rows, _, _ := Schedule(Site{Quarter: q, Subjects: []Subject{sub}, Before: before, Since: since, Actions: actions, Settings: s})
			r := rows[0]
			if event := latest(r.LastSeen, latest(r.Work.Last, r.Clear.Last)); !r.Due.IsZero() && r.State != TreatAgain && r.Due.Before(event) {
				t.Fatalf("%s: due %v before %v", q, r.Due, event)
			}
			switch {
			case r.Clear.Years == 0:
				counted = counted[:0]
			case len(counted) == 0 || r.Clear.Since.After(before[0].Clear.Since):
				counted = append(counted[:0], ordinal(r.Clear.Since))
			case r.Clear.Years > len(counted):
				counted = append(counted, ordinal(q.End()))
			}
			if len(counted) != r.Clear.Years {
				t.Fatalf("%s: %d clear looks counted as %d", q, len(counted), r.Clear.Years)
			}
			for k := 1; k < len(counted); k++ {
				if counted[k]-counted[k-1] < 4 {
					t.Fatalf("%s: looks at quarters %v", q, counted)
				}
			}
			if (r.State == Released) != (r.Clear.Years >= s.ClearYears) {
				t.Fatalf("%s: %s after %d of %d", q, r.State, r.Clear.Years, s.ClearYears)
			}
			if i > 0 {
				b := before[0]
				if r.Work.Days < b.Work.Days || r.Clear.Years > b.Clear.Years && sub.Look != NotFound {
					t.Fatalf("%s: from %+v to %+v", q, b, r)
				}
				if sub.Look == Nobody && len(actions) == 0 && (r.Due != b.Due || r.State != b.State) {
					t.Fatalf("%s: nobody looked, and %v became %v", q, b, r)
				}
			}
			before, since = rows, q.End()
			q = q.Next()
		}
	})
}
