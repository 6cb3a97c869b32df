package mapfile

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/followup"
	"driftreach/internal/result"
	"driftreach/internal/verify/validate"
)

func calendar(t *testing.T, run *result.Run) []byte {
	t.Helper()
	data, err := written(func(b *bytes.Buffer) error { return writeCalendar(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestCalendarText: the exact text of one event, written by hand from RFC 5545: sections 3.1
// (folding at 75 octets), 3.3.11 (escapes), 3.6.1 (event), 3.8.1.6 (latitude first).
func TestCalendarText(t *testing.T) {
	run := fixture()
	run.Chain = "c0ffee"
	run.Visits = []result.Visit{{Stand: -1, Row: &followup.Row{
		StandID: "2025Q1-0007", State: followup.Watch, Look: followup.NotFound, Due: day("2026-08-14"), LastLook: day("2025-08-14"),
		Clear: followup.Clear{Since: day("2024-08-01"), Last: day("2025-08-14"), Years: 2},
		Place: followup.Place{Position: sites[0].at, WaterBody: `Cañón; "Long", \ Creek`, RiverKm: 3.25, Parcel: "7,\r\n8\x07"},
	}}}
	want := strings.ReplaceAll(`BEGIN:VCALENDAR
VERSION:2.0
PRODID:-//driftreach//follow-up//EN
CALSCALE:GREGORIAN
NAME:Stands to visit\, 2026Q3
X-WR-CALNAME:Stands to visit\, 2026Q3
BEGIN:VEVENT
UID:2025Q1-0007.visit.c0ffee.driftreach
DTSTAMP:20260930T000000Z
SEQUENCE:0
TRANSP:TRANSPARENT
DTSTART;VALUE=DATE:20260814
DTEND;VALUE=DATE:20260815
SUMMARY:OVERDUE Look again: stand 2025Q1-0007\, Cañón\; "Long"\, \\ Creek
DESCRIPTION:Look again by 2026-08-14: clear in 2 of 5 years.\nOverdue by 47
  days on 2026-09-30.\nWhy: not found on 2025-08-14\, clear since
  2024-08-01.\n\n- look over all of its last footprint\, and the bank below
  it\n- Stay out of flood water\, and off banks that floods have
  undercut.\n- Planning aid: the product label\, permits and local rules
  decide.
LOCATION:Cañón\; "Long"\, \\ Creek\; river km 3.2\; parcel
  7\,\n8\\u0007\; -34.250000\, -20.500000
GEO:-34.250000;-20.500000
CATEGORIES:watch
CATEGORIES:overdue
END:VEVENT
END:VCALENDAR
`, "\n", "\r\n")
	got := string(calendar(t, run))
	for _, property := range []string{"DESCRIPTION", "X-WR-CALDESC"} { // those of a crew
		got = cutCautions(t, got, property, run)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// cutCautions removes from the calendar its property with the cautions.
func cutCautions(t *testing.T, calendar, property string, run *result.Run) string {
	t.Helper()
	escaped := strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(strings.Join(result.CrewCautions(run), "\n"))
	begin, after := "\r\n"+property+":", ""
	at := strings.Index(calendar, begin)
	for end := at + len(begin); at >= 0 && end < len(calendar); end++ {
		if strings.HasPrefix(calendar[end:], "\r\n") && !strings.HasPrefix(calendar[end:], "\r\n ") {
			after = calendar[end:]
			break
		}
	}
	said := strings.ReplaceAll(strings.TrimSuffix(calendar[max(at, 0):], after), "\r\n ", "")
	if said != begin+escaped {
		t.Fatalf("%s is %q, want %q", property, said, escaped)
	}
	return calendar[:at] + after
}

// TestCalendarWithoutVisits checks for the one event that RFC 5545, section 3.6, requires.
func TestCalendarWithoutVisits(t *testing.T) {
	run := fixture()
	run.Visits = run.Visits[:0]
	data := calendar(t, run)
	report := validate.Calendar(data, validate.Bounds{})
	if report.Features != 1 || !report.OK() || !bytes.Contains(data, []byte("SUMMARY:No visit is due after the batch of 2026Q3\r\n")) {
		t.Errorf("%v\n%s", report.Problems, data)
	}
}

// TestCalendarHasBothDays: the look at treated ground and the treatment of its regrowth are events of
// their own, whichever comes first, and each is late by its own day; where both are on one day there is
// one event. By hand.
func TestCalendarHasBothDays(t *testing.T) {
	const looks, treats = "Look again at what was treated: stand A", "Treat regrowth again: stand A"
	for _, c := range []struct{ due, again, treat, look string }{
		{"2026-10-31", "2026-11-30", treats, looks},
		{"2026-11-30", "2026-10-31", treats, looks},
		{"2026-11-30", "2026-09-20", treats, "OVERDUE " + looks},
		{"2026-09-20", "2026-11-30", "OVERDUE " + treats, looks},
		{"2026-11-30", "2026-11-30", treats, ""},
	} {
		run := fixture()
		run.Visits = []result.Visit{{Stand: -1, Row: &followup.Row{StandID: "A", State: followup.TreatAgain, Due: day(c.due), Again: day(c.again)}}}
		text := string(calendar(t, run))
		for summary, on := range map[string]string{c.treat: c.due, c.look: c.again} {
			event := "DTSTART;VALUE=DATE:" + strings.ReplaceAll(on, "-", "") + "\r\n.*\r\nSUMMARY:" + summary + "\r\n"
			if summary != "" && !regexp.MustCompile(event).MatchString(text) {
				t.Errorf("due %s, look again %s: no %q on %s in\n%s", c.due, c.again, summary, on, text)
			}
		}
		if n := strings.Count(text, "BEGIN:VEVENT"); n != calendarRows(run) || n == 1 != (c.look == "") {
			t.Errorf("due %s, look again %s: %d events, %d counted", c.due, c.again, n, calendarRows(run))
		}
	}
}

// TestCalendarCheckSees: the checks of package validate find each fault.
func TestCalendarCheckSees(t *testing.T) {
	good := string(calendar(t, fixture()))
	for name, bad := range map[string]string{
		"line feeds alone":     strings.ReplaceAll(good, "\r\n", "\n"),
		"a line too long":      strings.Replace(good, "CALSCALE:GREGORIAN", "X-LONG:"+strings.Repeat("x", 69), 1),
		"no version":           strings.Replace(good, "VERSION:2.0\r\n", "", 1),
		"a uid twice":          strings.Replace(good, "END:VCALENDAR\r\n", good[strings.Index(good, "BEGIN:VEVENT"):], 1),
		"not closed":           strings.Replace(good, "END:VEVENT\r\n", "", 1),
		"longitude first":      strings.Replace(good, "GEO:-17.500000;179.999900", "GEO:179.999900;-17.500000", 1),
		"a bare comma":         strings.Replace(good, `water\,`, `water,`, 1),
		"an escape of its own": strings.Replace(good, `\n`, `\t`, 1),
		"one in an event":      good[:strings.Index(good, "BEGIN:VEVENT")] + strings.Replace(good[strings.Index(good, "BEGIN:VEVENT"):], `\n`, `\t`, 1),
		"ends as it begins":    strings.Replace(good, "DTEND", "DTSTART", 1),
		"no event":             good[:strings.Index(good, "BEGIN:VEVENT")] + "END:VCALENDAR\r\n",
	} {
		if bad == good {
			t.Fatalf("%s: nothing was changed", name)
		}
		if validate.Calendar([]byte(bad), validate.Bounds{}).OK() {
			t.Errorf("%s is not seen", name)
		}
	}
}

// readCalendar is a Python program that reads a calendar from standard input with the package
// icalendar and prints its events.
const readCalendar = `
import sys, json, icalendar
calendar = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
events = []
for e in calendar.walk("VEVENT"):
    if e.errors: sys.exit(str(e.errors))
    categories = e["CATEGORIES"] if isinstance(e["CATEGORIES"], list) else [e["CATEGORIES"]]
    events.append({
        "UID": str(e["UID"]), "Start": e.decoded("DTSTART").isoformat(), "End": e.decoded("DTEND").isoformat(), "Summary": str(e["SUMMARY"]),
        "Description": str(e["DESCRIPTION"]), "Location": str(e["LOCATION"]), "Lat": e["GEO"].latitude, "Lon": e["GEO"].longitude,
        "Categories": [str(c) for k in categories for c in k.cats],
    })
json.dump(events, sys.stdout)
`

// TestCalendarInPython: an independent parser (Debian's python3-icalendar) reads every event back
// unchanged, with any text from the field.
func TestCalendarInPython(t *testing.T) {
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import icalendar").Run() != nil {
		t.Skip("icalendar is not installed (python3-icalendar): the calendar is not read with an independent parser")
	}
	run := fixture()
	command := exec.Command(python, "-c", readCalendar)
	command.Stdin = bytes.NewReader(calendar(t, run))
	var trouble bytes.Buffer
	command.Stderr = &trouble
	out, err := command.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, trouble.Bytes())
	}
	type event struct {
		UID, Start, End, Summary, Description, Location string
		Lat, Lon                                        float64
		Categories                                      []string
	}
	var got []event
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	var want []event
	for i := range run.Visits {
		v := &run.Visits[i]
		if v.Due.IsZero() {
			continue
		}
		late := followup.DaysLate(v.Due, run.Quarter.End())
		e := event{
			UID: run.VisitUID(v.StandID), Start: v.Due.Format("2006-01-02"), End: v.Due.AddDate(0, 0, 1).Format("2006-01-02"),
			Description: calendarText(visitNotes(run, v, late)), Location: calendarText(visitPlace(v)), Lat: v.Place.Position[1], Lon: v.Place.Position[0],
			Categories: []string{strings.ReplaceAll(v.State.String(), "_", " ")},
		}
		if late > 0 {
			e.Categories = append(e.Categories, "overdue")
		}
		want = append(want, e)
	}
	for i := range got { // the exact summary is not repeated here: it must name the stand and the stream
		v := run.Visits[slices.IndexFunc(run.Visits, func(v result.Visit) bool { return run.VisitUID(v.StandID) == got[i].UID })]
		if !strings.Contains(got[i].Summary, v.StandID) || !strings.Contains(got[i].Summary, calendarText(v.Place.WaterBody)) {
			t.Errorf("summary %q of %q", got[i].Summary, v.Place.WaterBody)
		}
		got[i].Summary = ""
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}
