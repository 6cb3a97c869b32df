package mapfile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// The lines about the event itself, which do not describe the visit.
const (
	stampName    = "DTSTAMP:"
	sequenceName = "SEQUENCE:"
	statusName   = "STATUS:"
	cancelled    = "STATUS:CANCELLED"
	stampForm    = "20060102T150405Z"
)

// ReadCalendar returns the events of a followup.ics that writeCalendar wrote, in order.
func ReadCalendar(r io.Reader) ([]result.Event, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(string(text), "\r\n")
	var events []result.Event
	begin := -1
	for i, line := range lines {
		switch {
		case line == "BEGIN:VEVENT":
			begin = i
		case line == "END:VEVENT" && begin >= 0:
			e, err := eventOf(lines[begin : i+1])
			if err != nil {
				return nil, err
			}
			events, begin = append(events, e), -1
		}
	}
	return events, nil
}

// eventOf reads one event.
func eventOf(lines []string) (result.Event, error) {
	e := result.Event{Lines: lines, Sequence: -1}
	for _, line := range unfolded(lines) {
		if uid, ok := strings.CutPrefix(line, "UID:"); ok {
			e.UID = uid
		}
		if number, ok := strings.CutPrefix(line, sequenceName); ok {
			if n, err := strconv.Atoi(number); err == nil && n >= 0 {
				e.Sequence = n
			}
		}
	}
	if e.UID == "" || e.Sequence < 0 {
		return e, errors.New("an event has no UID or no SEQUENCE of ours")
	}
	return e, nil
}

// earlierEvents returns the previous batch's events by UID.
func earlierEvents(run *result.Run) map[string]*result.Event {
	by := make(map[string]*result.Event, len(run.Events))
	for i := range run.Events {
		by[run.Events[i].UID] = &run.Events[i]
	}
	return by
}

// calendarEvent is an event of the batch.
type calendarEvent struct {
	uid   string
	stamp time.Time
	says  contentLines // all lines except those about the event itself
}

// newEvent returns an event of one day that does not mark its owner as busy. Its time stamp is the
// quarter, not the clock.
func newEvent(uid string, q survey.Quarter, on time.Time, title string) *calendarEvent {
	e := &calendarEvent{uid: uid, stamp: q.End()}
	e.says.line("TRANSP:TRANSPARENT")
	e.says.date("DTSTART", on)
	e.says.date("DTEND", on.AddDate(0, 0, 1))
	e.says.text("SUMMARY", title)
	return e
}

// lines returns all lines of the event.
func (e *calendarEvent) lines(sequence int) contentLines {
	var c contentLines
	c.line("BEGIN:VEVENT")
	c.text("UID", e.uid)
	c.line(stampName + e.stamp.Format(stampForm))
	c.line(sequenceName + strconv.Itoa(sequence))
	c = append(c, e.says...)
	c.line("END:VEVENT")
	return c
}

// writeEvent writes an event: the old lines if nothing has changed, else new lines with the next
// sequence number.
func writeEvent(out *bufio.Writer, e *calendarEvent, before *result.Event) {
	sequence := 0
	if before != nil {
		sequence = before.Sequence + 1
	}
	text := e.lines(sequence)
	if before != nil && slices.Equal(said(strings.Split(string(text), "\r\n")), said(before.Lines)) {
		writeLines(out, before.Lines)
		return
	}
	out.Write(text)
}

// said returns the lines of an event that describe the visit, unfolded.
func said(lines []string) []string {
	return slices.DeleteFunc(unfolded(lines), func(line string) bool {
		return line == "" || strings.HasPrefix(line, stampName) || strings.HasPrefix(line, sequenceName)
	})
}

// unfolded returns lines as they were before folding (RFC 5545, section 3.1).
func unfolded(lines []string) []string {
	return strings.Split(strings.ReplaceAll(strings.Join(lines, "\n"), "\n ", ""), "\n")
}

// writeCancelled writes an event that is no longer valid, the first time with the next sequence number
// and then unchanged. It is kept in all later calendars, for two reasons. First, of two events with the
// same UID the one with the higher SEQUENCE is valid (RFC 5546, section 2.1.5). A visit to the same
// stand years later must therefore continue from that number: if it began again at 0, every calendar
// with the cancelled event would ignore it. Second, a user who missed one quarter's file finds the
// cancellation in any later one. Importing the same event again changes nothing.
func writeCancelled(out *bufio.Writer, q survey.Quarter, e *result.Event) {
	if slices.Contains(e.Lines, cancelled) {
		writeLines(out, e.Lines)
		return
	}
	var lines []string
	for _, line := range e.Lines {
		switch {
		case strings.HasPrefix(line, stampName):
			line = stampName + q.End().Format(stampForm)
		case strings.HasPrefix(line, sequenceName):
			lines = append(lines, fmt.Sprint(sequenceName, e.Sequence+1))
			line = cancelled
		case strings.HasPrefix(line, statusName):
			continue
		}
		lines = append(lines, line)
	}
	writeLines(out, lines)
}

// writeLines writes lines as they are.
func writeLines(out *bufio.Writer, lines []string) {
	for _, line := range lines {
		out.WriteString(line)
		out.WriteString("\r\n")
	}
}
