package result

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// everRun has stands of one acre or more in every stage.
func everRun() *Run {
	run := &Run{Quarter: q3, FollowUp: followup.Settings{ClearYears: 4}}
	put := func(acres float64, status survey.Status, ever int64, lost bool) {
		s := Stand{Stand: stand.Stand{ID: fmt.Sprint("m", len(run.Stands)), Infested: acresOf(acres), Gross: acresOf(acres), Status: status}, Memory: lineage.Memory{Ever: ever, Lost: lost}}
		run.Stands = append(run.Stands, s)
	}
	gone := func(acres float64, ever int64, v *followup.Row) {
		id := fmt.Sprint("g", len(run.Absent))
		run.Absent = append(run.Absent, Absent{Known: lineage.Known{Stand: stand.Stand{ID: id, Infested: acresOf(acres)}, Memory: lineage.Memory{Ever: ever}}})
		if v != nil {
			v.StandID = id
			run.Visits = append(run.Visits, Visit{Row: v, Stand: -1})
		}
	}
	clear := func(years int) *followup.Row {
		return &followup.Row{State: followup.Watch, Clear: followup.Clear{Years: years}}
	}
	put(1, survey.Untreated, 3e10, false) // two acres are no longer found
	put(2, survey.Resprout, 1e10, false)  // more than it ever had
	put(4, survey.Resprout, 4e10, true)
	put(8, survey.Treated, 85e9, true) // half an acre is no longer found
	put(16, survey.StandingDead, 0, false)
	gone(1, 15e9, clear(0))
	gone(2, 1e10, nil)
	gone(4, 0, clear(1))
	gone(8, 0, clear(2))
	gone(16, 0, clear(3))
	gone(32, 0, clear(7)) // not released, so it counts in the highest year before release
	gone(64, 0, &followup.Row{State: followup.Released, Clear: followup.Clear{Years: 4}})
	gone(128, 0, &followup.Row{State: followup.LookAgain, Clear: followup.Clear{Years: 1}}) // treated since
	return run
}

// TestEverMapped: the number and acres of stands in each stage, by hand. Stands on the map count
// with their present acres; what they lack of the most they ever had is counted apart. Stands that
// are gone count with the most they ever had, or with their last acres if these are more.
func TestEverMapped(t *testing.T) {
	want := []string{
		"live 2 3", "lost_again 1 4", "treated 1 8", "standing_dead 1 16", "no_longer_found 0 2.5", "not_detected 3 131.5",
		"clear_1_year 1 4", "clear_2_years 1 8", "clear_3_years 2 48", "released 1 64", "ever_mapped 13 289",
	}
	var got []string
	for _, row := range EverMapped(everRun()) {
		got = append(got, fmt.Sprintf("%s %d %s", row.Stage, row.Stands, row.Acres))
		if row.Quarter != "2026Q3" {
			t.Errorf("%+v", row)
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if clear := goneStage(&Visit{Row: &followup.Row{State: followup.Watch, Clear: followup.Clear{Years: 2}}}, 1); clear != "clear_1_year" {
		t.Errorf("with one year until release: %s", clear)
	}
	// thirds of the last digit: three stands that are gone add up to a whole digit, counted once
	run := everRun()
	run.Stands, run.Absent = nil, run.Absent[2:5]
	for i := range run.Absent {
		run.Absent[i].Infested, run.Absent[i].Memory.Ever = 0, 333_334
	}
	rows, sum := EverMapped(run), int64(0)
	for _, row := range rows[:len(rows)-1] {
		sum += row.Acres.Int
	}
	if all := rows[len(rows)-1]; all.Acres.String() != "0.0001" || all.Stands != 3 || sum != 1 {
		t.Errorf("%+v, stages add up to %d", rows, sum)
	}
}

// TestEverMappedGoesOn: rows of earlier batches come first, as printed; a run without a result has
// only those.
func TestEverMappedGoesOn(t *testing.T) {
	run := everRun()
	for _, cells := range [][]string{{"2026Q1", "live", "3", "1.25"}, {"2026Q1", "ever_mapped", "3", "1.25"}} {
		row, err := ReadEver(cells)
		if err != nil {
			t.Fatal(err)
		}
		run.EverBefore = append(run.EverBefore, row)
	}
	got := said(run, EverMappedTable(run), true)
	if len(got) != 2+11 || got[0] != "quarter=2026Q1 | stage=live | stands=3 | acres=1.25" || got[2] != "quarter=2026Q3 | stage=live | stands=2 | acres=3" {
		t.Error(strings.Join(got, "\n"))
	}
	run.FollowUp.ClearYears = 0
	if table := EverMappedTable(run); table.Rows != 2 {
		t.Errorf("%d rows of a run without an answer", table.Rows)
	}
}

// TestReadEver: each fault in a row is reported.
func TestReadEver(t *testing.T) {
	for text, want := range map[string]string{
		"2026Q1,live,1,0.5":         "",
		"2026Q1,live,0,0":           "",
		"2026Q1,live,1":             "a row has 3 cells",
		"2026Q1,live,1,0.5,x":       "a row has 5 cells",
		"2026Q1,live,-1,0.5":        `no number of stands is "-1"`,
		"2026Q1,live,1.5,0.5":       `no number of stands is "1.5"`,
		"2026Q1,live,1,-0.5":        `no acreage is "-0.5"`,
		"2026Q1,live,1,":            `no acreage is ""`,
		"2026Q1,live,1,1e3":         `no acreage is "1e3"`,
		"2026Q1,live,1,0.5 ":        `no acreage is "0.5 "`,
		"2026Q5,live,1,0.5":         "2026Q5",
		"2026Q1,live,1,90071992547": "",
		// 2^53 = 9007199254740992 is the largest value stored exactly
		"2026Q1,live,1,900719925474.0992": "",
		"2026Q1,live,1,900719925474.0993": `no acreage is "900719925474.0993"`,
		"2026Q1,live,1,0.1234567890":      "",
		"2026Q1,live,1,0.12345678901":     `no acreage is "0.12345678901"`,
	} {
		row, err := ReadEver(strings.Split(text, ","))
		switch {
		case want == "" && err != nil, want != "" && (err == nil || !strings.Contains(err.Error(), want)):
			t.Errorf("%s: %v, want %q", text, err, want)
		case want == "" && row.Quarter != "2026Q1", want == "" && row.Stage != "live":
			t.Errorf("%s: %+v", text, row)
		}
	}
	row, err := ReadEver([]string{"2026Q2", "treated", "12", "3.0250"})
	if err != nil || row.Stands != 12 || row.Acres.Decimals != 4 || row.Acres.Int != 30250 {
		t.Errorf("%+v, %v", row, err)
	}
}
