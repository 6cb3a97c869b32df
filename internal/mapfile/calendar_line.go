package mapfile

import (
	"strings"
	"time"
	"unicode/utf8"

	"driftreach/internal/check"
)

// contentLines are lines of a calendar as RFC 5545, section 3.1, wants them: no
// longer than 75 octets, ended by CRLF, what is left on lines that begin with a
// blank.
type contentLines []byte

// lineOctets is the longest line, without its end (RFC 5545, section 3.1).
const lineOctets = 75

// text adds a property whose value is text from anywhere.
func (c *contentLines) text(name, value string) {
	c.line(name + ":" + textEscapes.Replace(calendarText(value)))
}

// date adds a property whose value is a day without a time.
func (c *contentLines) date(name string, day time.Time) {
	c.line(name + ";VALUE=DATE:" + day.Format("20060102"))
}

// line adds a line that is well formed, folded: before a blank where one fits, so
// that people who open the file read whole words, and never within a character.
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

// calendarText returns text as a calendar may hold it (RFC 5545, section 3.3.11):
// UTF-8, line ends of one kind, other control characters as their escapes.
func calendarText(s string) string { return lineEnds.Replace(check.Visible(s)) }

// textEscapes are those of RFC 5545, section 3.3.11.
var textEscapes = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`)

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")
