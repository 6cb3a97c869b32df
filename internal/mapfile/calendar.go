package mapfile

import (
	"bufio"
	"bytes"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	ical "github.com/arran4/golang-ical"

	"driftreach/internal/check"
	"driftreach/internal/followup"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// WriteCalendar writes followup.ics (RFC 5545): an all-day event on the day each
// visit is due, in the order of followup.csv. Events rather than tasks: every
// calendar shows them. An event keeps its UID from quarter to quarter; one that says
// the same as in the batch before is the same to the byte, one that changed has the
// next SEQUENCE, and one that is no more stays with STATUS:CANCELLED, after the
// others by UID, so that the next file moves and takes away rather than adds. A
// calendar must hold something: where no visit is due, the quarter's last day says so.
func WriteCalendar(w io.Writer, run *result.Run) error {
	out := bufio.NewWriterSize(w, flushAt)
	head, tail, err := calendarFrame(run.Quarter)
	if err != nil {
		return err
	}
	out.Write(head)
	due := map[string]bool{}
	before := earlierEvents(run)
	write := func(e *ical.VEvent) error {
		due[e.Id()] = true
		return writeEvent(out, e, before[e.Id()])
	}
	for i := range run.Visits {
		if run.Visits[i].Due.IsZero() {
			continue
		}
		if err := write(visitEvent(run, i)); err != nil {
			return err
		}
	}
	if len(due) == 0 {
		if err := write(noVisit(run)); err != nil {
			return err
		}
	}
	for _, uid := range slices.Sorted(maps.Keys(before)) {
		if !due[uid] {
			writeCancelled(out, run.Quarter, before[uid])
		}
	}
	out.Write(tail)
	return out.Flush()
}

// calendarRows is how many events WriteCalendar writes.
func calendarRows(run *result.Run) int {
	due := map[string]bool{}
	for i := range run.Visits {
		if !run.Visits[i].Due.IsZero() {
			due[run.VisitUID(run.Visits[i].StandID)] = true
		}
	}
	rows := max(1, len(due))
	if len(due) == 0 {
		due[run.NoVisitUID(run.Quarter)] = true
	}
	for _, e := range run.Events {
		if !due[e.UID] {
			rows++
		}
	}
	return rows
}

// calendarForm is RFC 5545's on every system: lines of 75 octets that end in CRLF.
func calendarForm() *ical.SerializationConfiguration {
	return &ical.SerializationConfiguration{MaxLength: 75, PropertyMaxLength: 75, NewLine: "\r\n"}
}

// calendarFrame returns what stands before the events and after them.
func calendarFrame(q survey.Quarter) (head, tail []byte, err error) {
	const end = "END:VCALENDAR\r\n"
	c := ical.NewCalendarFor("driftreach")
	c.SetProductId("-//driftreach//follow-up//EN")
	c.SetCalscale("GREGORIAN")
	c.SetName("Stands to visit, " + q.String())
	var b bytes.Buffer
	if err := c.SerializeTo(&b, calendarForm()); err != nil {
		return nil, nil, err
	}
	if !bytes.HasSuffix(b.Bytes(), []byte(end)) {
		panic("mapfile: a calendar does not end as it began")
	}
	return b.Bytes()[:b.Len()-len(end)], []byte(end), nil
}

// visitEvent is the event of visit i, which is due.
func visitEvent(run *result.Run, i int) *ical.VEvent {
	v := &run.Visits[i]
	late := v.DaysOverdue(run.Quarter.End())
	e := newEvent(run.VisitUID(v.StandID), run.Quarter)
	e.SetAllDayStartAt(v.Due)
	e.SetAllDayEndAt(v.Due.AddDate(0, 0, 1))
	title := "Look again"
	if v.State == followup.TreatAgain {
		title = "Treat regrowth again"
	}
	title += ": stand " + v.StandID
	if v.Place.WaterBody != "" {
		title += ", " + v.Place.WaterBody
	}
	if late > 0 {
		title = "OVERDUE " + title
	}
	e.SetSummary(calendarText(title))
	e.SetDescription(calendarText(visitNotes(run, v, late)))
	e.SetLocation(calendarText(visitPlace(v)))
	// six decimals are what RFC 5545, section 3.8.1.6, asks for
	at := v.Place.Position
	e.SetProperty(ical.ComponentPropertyGeo, strconv.FormatFloat(at[1], 'f', 6, 64)+";"+strconv.FormatFloat(at[0], 'f', 6, 64))
	e.AddCategory(strings.ReplaceAll(v.State.String(), "_", " "))
	if late > 0 {
		e.AddCategory("overdue")
	}
	return e
}

// newEvent is an event that blocks nobody's day, stamped with the quarter and not
// with the clock.
func newEvent(uid string, q survey.Quarter) *ical.VEvent {
	e := ical.NewEvent(uid)
	e.SetDtStampTime(q.End())
	e.SetSequence(0)
	e.SetTimeTransparency(ical.TransparencyTransparent)
	return e
}

// noVisit is the event of a calendar without visits.
func noVisit(run *result.Run) *ical.VEvent {
	q := run.Quarter
	e := newEvent(run.NoVisitUID(q), q)
	e.SetAllDayStartAt(q.End())
	e.SetAllDayEndAt(q.End().AddDate(0, 0, 1))
	e.SetSummary("No visit is due after the batch of " + q.String())
	return e
}

// visitNotes is what a crew reads: what, why, requirements.
func visitNotes(run *result.Run, v *result.Visit, late int) string {
	lines := []string{sentence(v.What(run.FollowUp)) + "."}
	if late > 0 {
		lines = append(lines, "Overdue by "+strconv.Itoa(late)+" days on "+run.Quarter.End().Format("2006-01-02")+".")
	}
	lines = append(lines, "Why: "+strings.Join(v.Why(run.FollowUp), "; ")+".")
	if v.Work.Method != "" {
		lines = append(lines, "Last method: "+v.Work.Method)
	}
	lines = append(lines, "")
	if v.Stand >= 0 {
		for _, r := range run.Stands[v.Stand].Plan.Requirements {
			lines = append(lines, "- "+r)
		}
	} else {
		lines = append(lines, "- look over all of its last footprint, and the bank below it")
	}
	return strings.Join(append(lines, "- "+result.FloodCaution), "\n")
}

// visitPlace says where to go, for people: stream and river km, parcel, or the
// position.
func visitPlace(v *result.Visit) string {
	var parts []string
	if v.Place.WaterBody != "" {
		parts = append(parts, v.Place.WaterBody)
	}
	if km := v.Place.RiverKm; km >= 0 {
		parts = append(parts, "river km "+strconv.FormatFloat(km, 'f', 1, 64))
	}
	if v.Place.Parcel != "" {
		parts = append(parts, "parcel "+v.Place.Parcel)
	}
	at := v.Place.Position
	return strings.Join(append(parts, strconv.FormatFloat(at[1], 'f', 6, 64)+", "+strconv.FormatFloat(at[0], 'f', 6, 64)), "; ")
}

// sentence begins with a capital.
func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// calendarText returns text as a calendar may hold it (RFC 5545, section 3.3.11):
// UTF-8, line ends of one kind, other control characters as their escapes. The
// library escapes and folds, and does none of this.
func calendarText(s string) string { return lineEnds.Replace(check.Visible(s)) }

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")
