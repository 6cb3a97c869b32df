package mapfile

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/internal/followup"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
	"driftreach/internal/verify/validate"
)

// TestCalendarThroughAChain: from quarter to quarter an event stays, moves, is cancelled, stays
// cancelled and returns. By hand from RFC 5545, sections 3.8.7.4 (SEQUENCE increases with a change)
// and 3.8.1.11 (STATUS): UID, SEQUENCE, STATUS, day, and the quarter of the last change, as read by
// one library in Go and two in Python.
func TestCalendarThroughAChain(t *testing.T) {
	const gone = "CANCELLED"
	quarters := []struct {
		quarter string
		due     map[string]string // stand and day
		want    []string
	}{
		{"2026Q1", map[string]string{"A": "2027-01-15", "B": "2027-02-01"}, []string{"A 0 - 2027-01-15 2026-03-31", "B 0 - 2027-02-01 2026-03-31"}},
		{"2026Q2", map[string]string{"A": "2027-01-15", "B": "2027-05-05", "C": "2027-06-01"}, []string{"A 0 - 2027-01-15 2026-03-31", "B 1 - 2027-05-05 2026-06-30", "C 0 - 2027-06-01 2026-06-30"}},
		{"2026Q3", map[string]string{"B": "2027-05-05"}, []string{"B 1 - 2027-05-05 2026-06-30", "A 1 " + gone + " 2027-01-15 2026-09-30", "C 1 " + gone + " 2027-06-01 2026-09-30"}},
		{"2026Q4", nil, []string{"none 0 - 2026-12-31 2026-12-31", "A 1 " + gone + " 2027-01-15 2026-09-30", "B 2 " + gone + " 2027-05-05 2026-12-31", "C 1 " + gone + " 2027-06-01 2026-09-30"}},
		{"2027Q1", map[string]string{"A": "2027-08-08"}, []string{"A 2 - 2027-08-08 2027-03-31", "B 2 " + gone + " 2027-05-05 2026-12-31", "C 1 " + gone + " 2027-06-01 2026-09-30", "none 1 " + gone + " 2026-12-31 2027-03-31"}},
	}
	var before []result.Event
	for _, q := range quarters {
		run := &result.Run{Chain: "c0ffee", Events: before}
		run.Quarter, _ = survey.ParseQuarter(q.quarter)
		for _, id := range []string{"A", "B", "C"} {
			if q.due[id] != "" {
				// due in the future in every quarter, so that no event changes by becoming overdue
				run.Visits = append(run.Visits, result.Visit{Stand: -1, Row: &followup.Row{StandID: id, State: followup.Watch, Due: day(q.due[id]),
					Place: followup.Place{WaterBody: "Långa Strömmen, the very long water whose name goes on beyond a line of a calendar"}}})
			}
		}
		data := calendar(t, run)
		if report := validate.Calendar(data, validate.Bounds{}); !report.OK() || report.Features != calendarRows(run) {
			t.Errorf("%s: %d events, %d counted, %v", q.quarter, report.Features, calendarRows(run), report.Problems)
		}
		short := func(uid string) string { return strings.SplitN(uid, ".", 2)[0] }
		var err error
		if before, err = ReadCalendar(bytes.NewReader(data)); err != nil {
			t.Fatal(err)
		}
		var own []string
		for _, e := range before {
			if !strings.Contains(e.UID, ".c0ffee.") {
				t.Errorf("%s is not of the chain", e.UID)
			}
			own = append(own, fmt.Sprint(short(e.UID), " ", e.Sequence))
		}
		for i, want := range q.want {
			if i >= len(own) || !strings.HasPrefix(want, own[i]+" ") {
				t.Fatalf("%s: %v, want %v", q.quarter, own, q.want)
			}
		}
		read, absent, err := testkit.Events(data)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range absent {
			t.Logf("%s is not installed: the calendars are not read with it", name)
		}
		for name, lines := range read {
			var got []string
			for _, line := range lines {
				uid, rest, _ := strings.Cut(line, " ")
				got = append(got, short(uid)+" "+rest)
			}
			if d := cmp.Diff(q.want, got); d != "" {
				t.Errorf("%s by %s: %s", q.quarter, name, d)
			}
		}
	}
}

// The same visits give the same bytes in each quarter, for any texts.
func TestUnchangedEventsStayToTheByte(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		run := &result.Run{Chain: "c0ffee", Quarter: survey.Quarter{Year: 2026, Number: 1}}
		run.Visits = []result.Visit{{Stand: -1, Row: &followup.Row{StandID: "A", State: followup.Watch, Due: day("2030-01-15"),
			Place: followup.Place{WaterBody: rapid.String().Draw(r, "stream"), Parcel: rapid.String().Draw(r, "parcel")}}}}
		first := calendar(t, run)
		events, err := ReadCalendar(bytes.NewReader(first))
		if err != nil || len(events) != 1 {
			r.Fatalf("%v %v", events, err)
		}
		run.Quarter, run.Events = run.Quarter.Next(), events
		second := calendar(t, run)
		from := func(b []byte) string { return string(b[bytes.Index(b, []byte("BEGIN:VEVENT")):]) }
		if d := cmp.Diff(from(first), from(second)); d != "" {
			r.Fatal(d)
		}
	})
}

func TestReadCalendarRefuses(t *testing.T) {
	good := string(calendar(t, fixture()))
	for name, bad := range map[string]string{
		"no uid":       strings.Replace(good, "UID:", "X-UID:", 1),
		"no sequence":  strings.Replace(good, "SEQUENCE:", "X-SEQUENCE:", 1),
		"a bad number": strings.Replace(good, "SEQUENCE:0", "SEQUENCE:-1", 1),
	} {
		if _, err := ReadCalendar(strings.NewReader(bad)); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}
