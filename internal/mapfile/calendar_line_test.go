package mapfile

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ical "github.com/arran4/golang-ical"
	"pgregory.net/rapid"
)

// TestCalendarLinesAgainstALibrary: the lines of an event equal, byte for byte, those of
// golang-ical. That library was the writer until its network code was taken out of the program.
func TestCalendarLinesAgainstALibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		title := rapid.StringMatching(`[a-zA-Z0-9,;:\\" éñ芦🌿\n'=-]{0,200}`).Draw(t, "title")
		day := time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 3000).Draw(t, "day"))
		e := ical.NewEvent("u@x")
		e.SetDtStampTime(day)
		e.SetSequence(3)
		e.SetTimeTransparency(ical.TransparencyTransparent)
		e.SetAllDayStartAt(day)
		e.SetAllDayEndAt(day.AddDate(0, 0, 1))
		e.SetSummary(title)
		var want bytes.Buffer
		if err := e.SerializeTo(&want, &ical.SerializationConfiguration{MaxLength: 75, PropertyMaxLength: 75, NewLine: "\r\n"}); err != nil {
			t.Fatal(err)
		}
		own := &calendarEvent{uid: "u@x", stamp: day}
		own.says.line("TRANSP:TRANSPARENT")
		own.says.date("DTSTART", day)
		own.says.date("DTEND", day.AddDate(0, 0, 1))
		own.says.text("SUMMARY", title)
		if got := string(own.lines(3)); got != want.String() {
			t.Fatalf("got\n%s\nwant\n%s", got, want.String())
		}
	})
}

// FuzzCalendarText: any text gives lines of at most 75 octets, of whole characters, that read back
// as the visible form of the text (RFC 5545, sections 3.1 and 3.3.11).
func FuzzCalendarText(f *testing.F) {
	for _, s := range nasty {
		f.Add(s)
		f.Add(strings.Repeat(s, 20))
	}
	f.Add(strings.Repeat("x", 67) + "é" + strings.Repeat("芦", 80))
	f.Fuzz(func(t *testing.T, s string) {
		var c contentLines
		c.text("SUMMARY", s)
		lines := strings.Split(strings.TrimSuffix(string(c), "\r\n"), "\r\n")
		for _, line := range lines {
			if len(line) > 75 || line == "" || strings.ContainsAny(line, "\r\n") || !utf8.ValidString(line) {
				t.Fatalf("%q: line %q", s, line)
			}
		}
		whole := strings.TrimPrefix(unfolded(lines)[0], "SUMMARY:")
		if n := len(unfolded(lines)); n != 1 {
			t.Fatalf("%q: %d lines unfolded", s, n)
		}
		if got := strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, "\n").Replace(whole); got != calendarText(s) {
			t.Fatalf("%q reads back as %q", s, got)
		}
	})
}
