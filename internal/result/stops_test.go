package result

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/field"
	"driftreach/internal/followup"
	"driftreach/internal/plan"
)

// stopsSay formats each stop as a line: number, name, task, place.
func stopsSay(run *Run) string {
	var out []string
	for _, s := range Stops(run) {
		out = append(out, fmt.Sprintf("%d %s %s %g", s.Number, s.Name, run.Task(s), s.At[0]))
	}
	return strings.Join(out, "; ")
}

// By hand from programme: its three visits are a stand to treat in part, one due before the
// quarter's end, and one due in 2027. With a plan, the crew's stops are those of its first quarter
// only, block by block, and the due visit to the stand that is off the map.
func TestStops(t *testing.T) {
	run := programme()
	run.Plan = nil
	if d := cmp.Diff("1 26Q1-0001 treat the rest -39.9995; 2 26Q1-0002 look again -39.5; 0 26Q2-0003 look again 0", stopsSay(run)); d != "" {
		t.Error(d)
	}
	next := run.Quarter.Next()
	run.Plan = &plan.Plan{Rows: []plan.Row{
		{Stand: 1, Kind: plan.FollowUp, Quarter: next, Block: 1, Blocks: 1, At: orb.Point{1, 1}},
		{Stand: 0, Quarter: next, Block: 1, Blocks: 3, At: orb.Point{2, 2}},
		{Stand: 0, Quarter: next, Block: 2, Blocks: 3, At: orb.Point{3, 3}},
		{Stand: 0, Quarter: next.Next(), Block: 3, Blocks: 3, At: orb.Point{4, 4}},
	}}
	want := "1 26Q2-0003 look again 1; 2 26Q1-0001 treat block 1 of 3 2; 3 26Q1-000-2 treat block 2 of 3 3; 4 26Q1-0002 look again -39.5"
	if d := cmp.Diff(want, stopsSay(run)); d != "" {
		t.Error(d)
	}
	run.Plan.Rows = run.Plan.Rows[:1]
	want = "1 26Q2-0003 look again 1; 2 26Q1-0002 look again -39.5; 0 26Q1-0001 treat the rest -39.9995"
	if d := cmp.Diff(want, stopsSay(run)); d != "" {
		t.Error(d)
	}
	if n := len(Listed(Stops(run))); n != 2 {
		t.Errorf("%d stops are listed, want 2", n)
	}
}

// Without a plan, three stands need treatment: the crew goes in treatment order. Visits without a
// number in that order come last, by due day.
func TestStopsKeepTheOrder(t *testing.T) {
	run := programme()
	run.Plan = nil
	at := func(id string, stand int32, order int, state followup.State, due time.Time) Visit {
		return Visit{Stand: stand, Row: &followup.Row{StandID: id, Present: true, State: state, Order: order, Due: due, Place: followup.Place{Position: orb.Point{float64(order), 1}}}}
	}
	run.Visits = []Visit{
		at("2026Q3-0001", 2, 3, followup.ToTreat, time.Time{}), at("2026Q2-0003", 1, 1, followup.ToTreat, time.Time{}),
		at("2026Q1-0001", 0, 2, followup.TreatAgain, time.Time{}), at("2026Q1-0002", -1, 0, followup.Watch, date(2026, 9, 20)),
		at("2026Q1-0003", -1, 0, followup.Watch, date(2026, 9, 1)),
	}
	want := "1 26Q2-0003 treat; 2 26Q1-0001 treat again; 3 26Q3-0001 treat; 4 26Q1-0003 look again; 5 26Q1-0002 look again"
	var got []string
	for _, s := range Stops(run) {
		got = append(got, fmt.Sprintf("%d %s %s", s.Number, s.Name, run.Task(s)))
	}
	if d := cmp.Diff(want, strings.Join(got, "; ")); d != "" {
		t.Error(d)
	}
	// a stand's stop is at the place of its visit, also for the first visit of the list; without a
	// visit it has none
	for i, want := range []string{"2", "1", "3"} {
		table := StandTable(run)
		k := slices.IndexFunc(table.Fields, func(f Field) bool { return f.Name == field.DecimalLongitude })
		if got := table.Cell(run, i, k).String(); got != want {
			t.Errorf("stand %d is at %s, its visit at %s", i, got, want)
		}
	}
	run.Visits = run.Visits[:2]
	table := StandTable(run)
	k := slices.IndexFunc(table.Fields, func(f Field) bool { return f.Name == field.DecimalLongitude })
	if got := table.Cell(run, 0, k).String(); got != "" {
		t.Errorf("a stand without a visit is at %s", got)
	}
}
