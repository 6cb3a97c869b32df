package validate

import (
	"bytes"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// Calendar checks a calendar against RFC 5545 as far as events are concerned: lines of at most 75
// octets, CRLF, components that are closed, required properties that occur once, all-day events that
// end after they begin, positions within bounds, and text without bare control characters or undefined
// escapes.
func Calendar(data []byte, within Bounds) *Report {
	c := &calendarCheck{r: &Report{}, within: within, ids: map[string]bool{}}
	if !utf8.Valid(data) || bytes.HasPrefix(data, []byte("\uFEFF")) {
		c.r.addf("not UTF-8 without a byte-order mark")
	}
	if !bytes.HasSuffix(data, []byte("\r\n")) {
		c.r.addf("last line does not end in CRLF")
	}
	var lines []string
	for i, line := range strings.Split(strings.TrimSuffix(string(data), "\r\n"), "\r\n") {
		if len(line) > 75 {
			c.r.addf("line %d has %d octets (section 3.1: at most 75)", i+1, len(line))
		}
		if strings.IndexFunc(line, func(r rune) bool { return r < ' ' && r != '\t' || r == 0x7f }) >= 0 {
			c.r.addf("line %d has a control character: %q", i+1, line)
		}
		if folded := strings.HasPrefix(line, " "); folded && len(lines) > 0 {
			lines[len(lines)-1] += line[1:]
			continue
		}
		lines = append(lines, line)
	}
	for _, line := range lines {
		c.line(line)
	}
	if len(c.open) > 0 {
		c.r.addf("%v is not closed", c.open)
	}
	if c.r.Features == 0 {
		c.r.addf("a calendar without a component (section 3.6)")
	}
	return c.r
}

type calendarCheck struct {
	r      *Report
	within Bounds
	ids    map[string]bool
	begun  bool                // the calendar's own properties have ended
	open   []string            // components, outermost first
	values map[string][]string // of the current component, by name and parameters
}

// line checks one content line.
func (c *calendarCheck) line(line string) {
	name, value, found := strings.Cut(line, ":")
	if !found {
		c.r.addf("no property: %q", line)
		return
	}
	switch name {
	case "BEGIN":
		if len(c.open) == 1 && !c.begun {
			c.head()
		}
		c.open, c.values = append(c.open, value), map[string][]string{}
	case "END":
		if n := len(c.open); n == 0 || c.open[n-1] != value {
			c.r.addf("%q ends a component that is not open", line)
			return
		}
		c.open = c.open[:len(c.open)-1]
		if value == "VEVENT" {
			c.event()
		}
	default:
		if len(c.open) == 0 {
			c.r.addf("%q lies in no component", line)
			return
		}
		c.values[name] = append(c.values[name], value)
	}
}

// head checks the calendar's own properties when the first event begins.
func (c *calendarCheck) head() {
	c.begun = true
	c.once("PRODID")
	if c.once("VERSION") != "2.0" {
		c.r.addf("VERSION is not 2.0")
	}
	for _, name := range []string{"NAME", "DESCRIPTION", "X-WR-CALNAME", "X-WR-CALDESC"} {
		for _, text := range c.values[name] {
			c.text("the calendar", name, text)
		}
	}
}

// once returns a property that must occur once.
func (c *calendarCheck) once(name string) string {
	all := c.values[name]
	if len(all) != 1 {
		c.r.addf("%s is there %d times", name, len(all))
		return ""
	}
	return all[0]
}

func (c *calendarCheck) event() {
	c.r.Features++
	uid := c.once("UID")
	if uid == "" || c.ids[uid] {
		c.r.addf("UID %q is blank or not unique", uid)
	}
	c.ids[uid] = true
	if _, err := time.Parse("20060102T150405Z", c.once("DTSTAMP")); err != nil {
		c.r.addf("%s: DTSTAMP: %v", uid, err)
	}
	begin, err1 := time.Parse("20060102", c.once("DTSTART;VALUE=DATE"))
	end, err2 := time.Parse("20060102", c.once("DTEND;VALUE=DATE"))
	if err1 != nil || err2 != nil || !end.After(begin) {
		c.r.addf("%s: not a day: %v %v", uid, c.values["DTSTART;VALUE=DATE"], c.values["DTEND;VALUE=DATE"])
	}
	for _, name := range []string{"SUMMARY", "DESCRIPTION", "LOCATION", "CATEGORIES"} {
		for _, text := range c.values[name] {
			c.text(uid, name, text)
		}
	}
	c.once("SUMMARY")
	for _, at := range c.values["GEO"] {
		c.position(uid, at)
	}
}

// text checks for characters that must be escaped and for undefined escapes.
func (c *calendarCheck) text(uid, name, text string) {
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '\\':
			if i++; i == len(text) || strings.IndexByte(`\;,nN`, text[i]) < 0 {
				c.r.addf("%s: %s has an escape that does not exist: %q", uid, name, text)
				return
			}
		case ';', ',':
			c.r.addf("%s: %s has a bare %q", uid, name, text[i])
			return
		}
	}
}

func (c *calendarCheck) position(uid, text string) {
	north, east, found := strings.Cut(text, ";")
	lat, err1 := strconv.ParseFloat(north, 64)
	lon, err2 := strconv.ParseFloat(east, 64)
	if !found || err1 != nil || err2 != nil || !(lat >= -90 && lat <= 90) || !(lon >= -180 && lon <= 180) {
		c.r.addf("%s: GEO %q is not a latitude and longitude", uid, text)
		return
	}
	if !c.within.holds(position{lon, lat}) {
		c.r.addf("%s: GEO %q lies outside the bounds", uid, text)
	}
}
