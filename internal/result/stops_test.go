package result

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/plan"
)

// stopsSay tells stops in a line each: number, name, task, place.
func stopsSay(run *Run) string {
	var out []string
	for _, s := range Stops(run) {
		out = append(out, fmt.Sprintf("%d %s %s %g", s.Number, s.Name, run.Task(s), s.At[0]))
	}
	return strings.Join(out, "; ")
}

// Worked by hand from programme: its three visits are one to treat in part, one due
// before the quarter's end, one due in 2027. With a plan the crew goes by its first
// quarter alone, block by block, and to the due visit of the stand that is off the map.
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
