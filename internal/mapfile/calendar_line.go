package mapfile

import (
	"strings"
	"time"
	"unicode/utf8"

	"driftreach/internal/check"
)

// contentLines are calendar lines as RFC 5545, section 3.1, requires: at most 75 octets, ended by CRLF,
// and continued on lines that begin with a blank.
type contentLines []byte

// lineOctets is the longest line, without its end (RFC 5545, section 3.1).
const lineOctets = 75

// text adds a property whose value is a text from any source.
func (c *contentLines) text(name, value string) {
	c.line(name + ":" + textEscapes.Replace(calendarText(value)))
}

// date adds a property whose value is a day without a time.
func (c *contentLines) date(name string, day time.Time) {
	c.line(name + ";VALUE=DATE:" + day.Format("20060102"))
}

// line adds a well-formed line and folds it. It breaks before a blank if possible, so that people who
// open the file see whole words, and never inside a character.
func (c *contentLines) line(s string) {
	for room := lineOctets; len(s) > room; room = lineOctets - 1 {
		end := room
		if blank := strings.LastIndexByte(s[:room+1], ' '); blank > 0 {
			end = blank
		}
		for !utf8.RuneStart(s[end]) {
			end--
		}
		*c = append(append(*c, s[:end]...), "\r\n "...)
		s = s[end:]
	}
	*c = append(append(*c, s...), "\r\n"...)
}

// calendarText returns text as a calendar may contain it (RFC 5545, section 3.3.11): UTF-8, one kind of
// line end, other control characters as escapes.
func calendarText(s string) string { return lineEnds.Replace(check.Visible(s)) }

// textEscapes are the escapes of RFC 5545, section 3.3.11.
var textEscapes = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`)

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")
