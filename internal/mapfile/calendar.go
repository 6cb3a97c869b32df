package mapfile

import (
	"bufio"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/followup"
	"driftreach/internal/result"
)

// writeCalendar writes followup.ics (RFC 5545): an all-day event on the day each visit is due, in the
// order of followup.csv. It writes events, not tasks, because every calendar shows events. An event
// keeps its UID from quarter to quarter. An unchanged event has the same bytes as in the previous
// batch; a changed one has the next SEQUENCE. An event that is no longer valid is kept with
// STATUS:CANCELLED, after the others and sorted by UID, so that importing the file also moves and
// removes events. A calendar must not be empty: if no visit is due, an event on the quarter's last day
// says so.
func writeCalendar(w io.Writer, run *result.Run) error {
	out := bufio.NewWriterSize(w, flushAt)
	out.Write(calendarHead(run))
	due := map[string]bool{}
	before := earlierEvents(run)
	write := func(e *calendarEvent) {
		due[e.uid] = true
		writeEvent(out, e, before[e.uid])
	}
	for i := range run.Visits {
		v := &run.Visits[i]
		if !v.Due.IsZero() {
			write(visitEvent(run, i))
		}
		if v.TwoDays() {
			write(treatedEvent(run, v))
		}
	}
	if len(due) == 0 {
		write(noVisit(run))
	}
	for _, uid := range slices.Sorted(maps.Keys(before)) {
		if !due[uid] {
			writeCancelled(out, run.Quarter, before[uid])
		}
	}
	out.WriteString("END:VCALENDAR\r\n")
	return out.Flush()
}

// calendarRows is how many events writeCalendar writes.
func calendarRows(run *result.Run) int {
	due := map[string]bool{}
	for i := range run.Visits {
		v := &run.Visits[i]
		if !v.Due.IsZero() {
			due[run.VisitUID(v.StandID)] = true
		}
		if v.TwoDays() {
			due[run.TreatedUID(v.StandID)] = true
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

// calendarHead is the text before the events. NAME and DESCRIPTION, which has all cautions, are defined
// in RFC 7986, sections 5.1 and 5.2; X-WR-CALNAME and X-WR-CALDESC are for calendars that do not know
// them.
func calendarHead(run *result.Run) []byte {
	q := run.Quarter
	var c contentLines
	c.line("BEGIN:VCALENDAR")
	c.line("VERSION:2.0")
	c.line("PRODID:-//driftreach//follow-up//EN")
	c.line("CALSCALE:GREGORIAN")
	c.text("NAME", "Stands to visit, "+q.String())
	c.text("X-WR-CALNAME", "Stands to visit, "+q.String())
	cautions := strings.Join(result.CrewCautions(run), "\n")
	c.text("DESCRIPTION", cautions)
	c.text("X-WR-CALDESC", cautions)
	return c
}

// visitEvent returns the event of visit i, which has a due date.
func visitEvent(run *result.Run, i int) *calendarEvent {
	v := &run.Visits[i]
	late := followup.DaysLate(v.Due, run.Quarter.End())
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
	e := newEvent(run.VisitUID(v.StandID), run.Quarter, v.Due, title)
	e.says.text("DESCRIPTION", visitNotes(run, v, late))
	e.says.text("LOCATION", visitPlace(v))
	e.position(v.Place.Position)
	e.says.text("CATEGORIES", strings.ReplaceAll(v.State.String(), "_", " "))
	if late > 0 {
		e.says.text("CATEGORIES", "overdue")
	}
	return e
}

// treatedEvent returns the event for visiting the treated ground of a stand that is not due whole on
// that day: its rest is still to be treated, or it grows again and is to be treated on another day. Its
// place is the treated ground, if that is known.
func treatedEvent(run *result.Run, v *result.Visit) *calendarEvent {
	title := "Look again at what was treated: stand " + v.StandID
	if v.Place.WaterBody != "" {
		title += ", " + v.Place.WaterBody
	}
	late := followup.DaysLate(v.Again, run.Quarter.End())
	if late > 0 {
		title = "OVERDUE " + title
	}
	row := *v.Row
	if row.Done.Cut != nil {
		row.Place.Position = row.Done.Cut.At
	}
	part := result.Visit{Row: &row, Stand: v.Stand}
	e := newEvent(run.TreatedUID(v.StandID), run.Quarter, v.Again, title)
	e.says.text("DESCRIPTION", visitNotes(run, &part, late))
	e.says.text("LOCATION", visitPlace(&part))
	e.position(part.Place.Position)
	e.says.text("CATEGORIES", "look again")
	if late > 0 {
		e.says.text("CATEGORIES", "overdue")
	}
	return e
}

// position sets the position of an event, with the six decimals that RFC 5545, section 3.8.1.6, asks
// for.
func (e *calendarEvent) position(at orb.Point) {
	e.says.line("GEO:" + strconv.FormatFloat(at[1], 'f', 6, 64) + ";" + strconv.FormatFloat(at[0], 'f', 6, 64))
}

// noVisit returns the only event of a calendar without visits.
func noVisit(run *result.Run) *calendarEvent {
	q := run.Quarter
	return newEvent(run.NoVisitUID(q), q, q.End(), "No visit is due after the batch of "+q.String())
}

// visitNotes returns what a crew needs to know: what to do, why, and requirements.
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
		for _, r := range run.Stands[v.Stand].Advice.Requirements {
			lines = append(lines, "- "+r)
		}
	} else {
		lines = append(lines, "- look over all of its last footprint, and the bank below it")
	}
	return strings.Join(append(lines, "- "+result.FloodCaution, "- "+result.LabelCaution), "\n")
}

// visitPlace says where to go, for readers: stream and river km, parcel, or the position.
func visitPlace(v *result.Visit) string {
	var parts []string
	if v.Place.WaterBody != "" {
		parts = append(parts, v.Place.WaterBody)
	}
	if km := v.Place.RiverKm; km >= 0 {
		parts = append(parts, "river km "+strconv.FormatFloat(float64(km), 'f', 1, 64))
	}
	if v.Place.Parcel != "" {
		parts = append(parts, "parcel "+v.Place.Parcel)
	}
	at := v.Place.Position
	return strings.Join(append(parts, strconv.FormatFloat(at[1], 'f', 6, 64)+", "+strconv.FormatFloat(at[0], 'f', 6, 64)), "; ")
}

// sentence returns s with a capital at the beginning.
func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
