package mapfile

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/followup"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

func day(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}

// TestFollowupIsReadBack: the next quarter reads from followup.csv what this one wrote, for any
// text from the field, with control characters as escapes. Blank texts, the order, and what a find
// interrupted are not kept.
func TestFollowupIsReadBack(t *testing.T) {
	run := fixture()
	data, err := written(func(b *bytes.Buffer) error { return writeFollowupCSV(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	got, err := followup.Read(bytes.NewReader(data), run.Quarter)
	if err != nil {
		t.Fatal(err)
	}
	var want []followup.Row
	for _, v := range run.Visits {
		r := *v.Row
		r.Order, r.Lost = 0, 0
		for _, text := range []*string{&r.Work.Method, &r.Work.FormulationClass, &r.Place.StreamID, &r.Place.WaterBody, &r.Place.Parcel} {
			if strings.TrimSpace(*text) == "" {
				*text = ""
			}
			*text = strings.ReplaceAll(check.Visible(*text), "\r\n", "\n") // as encoding/csv reads quoted cells
		}
		want = append(want, r)
	}
	asPrinted := cmp.Comparer(func(a, b geo.Kilometers) bool { return a != a && b != b || math.Abs(float64(a-b)) <= 5e-5 })
	if diff := cmp.Diff(want, got, asPrinted, cmpopts.EquateNaNs(), cmpopts.EquateApprox(0, 5e-5), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestFollowupHasItsColumns: the dictionary has every column that the reader needs.
func TestFollowupHasItsColumns(t *testing.T) {
	names := map[string]bool{}
	for _, f := range result.FollowupTable(&result.Run{}).Fields {
		names[f.Name] = true
	}
	for _, c := range followup.Columns() {
		if !names[c] {
			t.Errorf("followup.csv has no %s", c)
		}
	}
}

// TestDamagedFollowup: anything that a batch does not write is an error that names line and column;
// nothing panics or is misread.
func TestDamagedFollowup(t *testing.T) {
	run := &result.Run{Quarter: survey.Quarter{Year: 2026, Number: 3}, Visits: []result.Visit{{Stand: -1, Row: &followup.Row{
		StandID: "2025Q1-0007", State: followup.Watch, Look: followup.NotFound, Due: day("2026-12-14"), LastLook: day("2025-12-14"), LastSeen: day("2024-01-01"),
		Clear: followup.Clear{Since: day("2024-12-01"), Last: day("2025-12-14"), Years: 2}, Work: followup.Work{Days: 3, Last: day("2024-05-06")},
		Place: followup.Place{Position: sites[0].at, RiverKm: 3.25},
	}}}}
	data, err := written(func(b *bytes.Buffer) error { return writeFollowupCSV(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	good := string(data)
	if _, err := followup.Read(strings.NewReader(good), run.Quarter); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ name, old, new, want string }{
		{"another quarter", "2026Q3", "2026Q2", "line 2: quarter"},
		{"no state", ",watch,", ",,", "line 2: state"},
		{"a state of later days", ",watch,", ",eradicated,", "line 2: state"},
		{"a survey of later days", "not_found", "flown", "line 2: survey"},
		{"a day that is none", "2026-12-14,", "2026-13-14,", "line 2: due"},
		{"a day due that is gone", "2026-12-14,", ",", "line 2: due"},
		{"clear years without looks", ",2024-12-01,", ",,", "line 2: clear_last"},
		{"clear looks run backwards", ",2024-12-01,", ",2026-01-01,", "line 2: clear_last"},
		{"treated without a day", "2024-05-06", "", "line 2: treatments"},
		{"a status of later days", "untreated", "gone", "line 2: management_status"},
		{"longitude out of range", "-20.5", "-200.5", "line 2: decimalLongitude"},
		{"river km that is none", "3.25", "x", "line 2: river_km"},
		{"on the map perhaps", ",false,not_found", ",maybe,not_found", "line 2: on_map"},
		{"no stand", "2025Q1-0007", "", "line 2: stand_id"},
		{"a column gone", "clear_looks", "looks", "there is no column clear_looks"},
		{"cut short", "-34.25,", ",", "line 2: decimalLatitude"},
		{"a cell too many", "undercut.\",,\r\n", "undercut.\",,,1\r\n", "wrong number of fields"},
		{"a quote that does not close", "3.25", `"3.25`, "quote"},
		{"a stand twice", "\r\n2025Q1", "\r\n" + strings.TrimSuffix(strings.SplitAfterN(good, "\r\n", 2)[1], "\r\n") + "\r\n2025Q1", "line 3: stand 2025Q1-0007 is there twice"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			bad := strings.Replace(good, tt.old, tt.new, 1)
			if bad == good {
				t.Fatal("nothing was changed")
			}
			if _, err := followup.Read(strings.NewReader(bad), run.Quarter); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q", err, tt.want)
			}
		})
	}
	if _, err := followup.Read(strings.NewReader(""), run.Quarter); err == nil {
		t.Error("an empty file is read")
	}
	for cut := range strings.LastIndex(good, ",") + 1 { // a cut within the last number can only be found by the hash
		if rows, err := followup.Read(strings.NewReader(good[:cut]), run.Quarter); err == nil && len(rows) > 0 {
			t.Fatalf("cut at %d of %d it is read: %+v", cut, len(good), rows)
		}
	}
}
