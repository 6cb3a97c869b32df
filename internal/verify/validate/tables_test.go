package validate

import (
	"slices"
	"strings"
	"testing"
)

// TestCSV: tables by RFC 4180, section 2, and cells that a spreadsheet would run as a formula (OWASP,
// CSV injection); each bad one has the problem of its name alone.
func TestCSV(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		rows int
	}{
		"a header alone": {"a,b\r\n", 0}, "two rows": {"a,b\r\n1,2\r\n3,4\r\n", 2}, "quotes": {"a\r\n\"x, \"\"y\"\"\"\r\n", 1}, "a line end in a cell": {"a\r\n\"x\r\ny\"\r\n", 1},
		"signs of numbers": {"a,b,c\r\n-1.5,+2,-1e-3\r\n", 1}, "a dash within": {"a\r\nx-y\r\n", 1}, "letters beyond ASCII": {"a\r\nÄ ß 芦\r\n", 1},
	} {
		if r := CSV([]byte(c.text)); !r.OK() || r.Features != c.rows {
			t.Errorf("%s: %q, %d rows, want %d", name, r.Problems, r.Features, c.rows)
		}
	}
	for name, c := range map[string]struct{ text, want string }{
		"not UTF-8":        {"a\r\n\xff\r\n", "not UTF-8"},
		"the last line":    {"a\r\n\"x\r\ny\"", "last line does not end in CRLF"},
		"another width":    {"a,b\r\n1,2,3\r\n", "not CSV"},
		"a quote within":   {"a\r\nx\"y\r\n", "not CSV"},
		"line feeds alone": {"a\n1\n2\r\n", "1 lines end in CRLF, of 3 rows"},
		"a formula":        {"a,b\r\n1,=1+1\r\n", `row 1, column b: "=1+1" would run as a formula`},
	} {
		if r := CSV([]byte(c.text)); len(r.Problems) != 1 || !strings.Contains(r.Problems[0], c.want) {
			t.Errorf("%s: %q, want only %q", name, r.Problems, c.want)
		}
	}
	if r := CSV(nil); !slices.ContainsFunc(r.Problems, func(p string) bool { return strings.HasPrefix(p, "not CSV") }) {
		t.Errorf("nothing at all: %q", r.Problems)
	}
	for _, sign := range []string{"=", "+", "-", "@", "\t", "＝", "＋", "－", "＠", "﹦", "﹢", "﹣", "﹫"} {
		for _, before := range []string{"", " ", "\u00a0", "\u3000 "} {
			if !runs(before + sign + "SUM(A1)") {
				t.Errorf("%q before a formula is not found", before+sign)
			}
		}
		if runs("a"+sign) || runs("") || runs("   ") {
			t.Errorf("%q after a letter is found", sign)
		}
	}
}

// event is a calendar of one event, with some lines of it replaced; "" takes a line out.
func event(change map[string]string) string {
	lines := []string{
		"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//x//y//EN", "BEGIN:VEVENT", "UID:1@x", "DTSTAMP:20260701T000000Z", "DTSTART;VALUE=DATE:20260701",
		"DTEND;VALUE=DATE:20260702", "SUMMARY:look again\\, soon", "GEO:-38.5;-128.25", "END:VEVENT", "END:VCALENDAR",
	}
	var out strings.Builder
	for _, line := range lines {
		if other, is := change[line]; is {
			line = other
		}
		if line != "" {
			out.WriteString(line + "\r\n")
		}
	}
	return out.String()
}

// TestPlaceOfAnEvent: which texts are a latitude and a longitude by RFC 5545, section 3.8.1.6, which has
// one number, a semicolon and another; each fault alone.
func TestPlaceOfAnEvent(t *testing.T) {
	for text, want := range map[string]string{
		"0;0": "", "90;180": "", "-90;-180": "", "37.386013;-122.082932": "",
		"90.1;0": "is not a", "-90.1;0": "is not a", "0;180.1": "is not a", "0;-180.1": "is not a", "x;20": "is not a", "20;x": "is not a", ";20": "is not a", "20;": "is not a",
		"20,30": "is not a", "20": "is not a", "NaN;0": "is not a", "0;NaN": "is not a", "": "is not a", "1;2;3": "is not a",
	} {
		r := &Report{}
		(&calendarCheck{r: r}).position("1@x", text)
		if said := strings.Join(r.Problems, "\n"); want == "" && said != "" || !strings.Contains(said, want) {
			t.Errorf("GEO:%s: %q, want %q", text, said, want)
		}
	}
}

// TestCalendar: a calendar by RFC 5545, and each way to break it, which is told alone.
func TestCalendar(t *testing.T) {
	sea := Bounds{West: -130, South: -40, East: -120, North: -30}
	if r := Calendar([]byte(event(nil)), sea); !r.OK() || r.Features != 1 {
		t.Fatalf("a good one: %q, %d events", r.Problems, r.Features)
	}
	folded := event(map[string]string{"SUMMARY:look again\\, soon": "SUMMARY:look\r\n  again"})
	if r := Calendar([]byte(folded), sea); !r.OK() {
		t.Errorf("a folded line: %q", r.Problems)
	}
	for _, c := range []struct{ name, line, other, want string }{
		{"no id", "UID:1@x", "", "UID is there 0 times"},
		{"two ids", "UID:1@x", "UID:1@x\r\nUID:2@x", "UID is there 2 times"},
		{"no stamp", "DTSTAMP:20260701T000000Z", "DTSTAMP:20260701", "DTSTAMP"},
		{"no day", "DTSTART;VALUE=DATE:20260701", "DTSTART;VALUE=DATE:2026-07-01", "not a day"},
		{"an end that is no later", "DTEND;VALUE=DATE:20260702", "DTEND;VALUE=DATE:20260701", "not a day"},
		{"no summary", "SUMMARY:look again\\, soon", "", "SUMMARY is there 0 times"},
		{"a bare comma", "SUMMARY:look again\\, soon", "SUMMARY:look, again", "SUMMARY has a bare ','"},
		{"a bare semicolon", "SUMMARY:look again\\, soon", "SUMMARY:look; again", "SUMMARY has a bare ';'"},
		{"no such escape", "SUMMARY:look again\\, soon", "SUMMARY:look\\t", "an escape that does not exist"},
		{"an escape at the end", "SUMMARY:look again\\, soon", "SUMMARY:look\\", "an escape that does not exist"},
		{"beyond the pole", "GEO:-38.5;-128.25", "GEO:-98.5;-128.25", "is not a latitude and longitude"},
		{"beyond half a turn", "GEO:-38.5;-128.25", "GEO:-38.5;-188.25", "is not a latitude and longitude"},
		{"one number", "GEO:-38.5;-128.25", "GEO:-38.5", "is not a latitude and longitude"},
		{"turned about", "GEO:-38.5;-128.25", "GEO:38.5;128.25", "lies outside the bounds"},
		{"another version", "VERSION:2.0", "VERSION:1.0", "VERSION is not 2.0"},
		{"no maker", "PRODID:-//x//y//EN", "", "PRODID is there 0 times"},
		{"not closed", "END:VCALENDAR", "", "[VCALENDAR] is not closed"},
		{"before the calendar", "BEGIN:VCALENDAR", "NAME:x\r\nBEGIN:VCALENDAR", `"NAME:x" lies in no component`},
		{"after the calendar", "END:VCALENDAR", "END:VCALENDAR\r\nNAME:x", `"NAME:x" lies in no component`},
		{"closed twice", "END:VCALENDAR", "END:VCALENDAR\r\nEND:VCALENDAR", "ends a component that is not open"},
		{"a line without a value", "SUMMARY:look again\\, soon", "SUMMARY:look\r\nagain", `no property: "again"`},
		{"a control character", "SUMMARY:look again\\, soon", "SUMMARY:look\a", "has a control character"},
		{"76 octets", "SUMMARY:look again\\, soon", "SUMMARY:" + strings.Repeat("x", 68), "has 76 octets"},
	} {
		r := Calendar([]byte(event(map[string]string{c.line: c.other})), sea)
		if len(r.Problems) == 0 || !slices.ContainsFunc(r.Problems, func(p string) bool { return strings.Contains(p, c.want) }) {
			t.Errorf("%s: %q, want %q", c.name, r.Problems, c.want)
		}
	}
	if r := Calendar([]byte(event(map[string]string{"SUMMARY:look again\\, soon": "SUMMARY:" + strings.Repeat("x", 67)})), sea); !r.OK() {
		t.Errorf("75 octets: %q", r.Problems)
	}
	twice := strings.Replace(event(nil), "END:VEVENT\r\n", "END:VEVENT\r\n"+event(nil)[strings.Index(event(nil), "BEGIN:VEVENT"):strings.Index(event(nil), "END:VCALENDAR")], 1)
	if r := Calendar([]byte(twice), sea); len(r.Problems) != 1 || !strings.Contains(r.Problems[0], "not unique") || r.Features != 2 {
		t.Errorf("one id of two events: %q", r.Problems)
	}
	for name, text := range map[string]string{
		"no event": "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nEND:VCALENDAR\r\n", "line feeds": strings.ReplaceAll(event(nil), "\r\n", "\n"), "a mark": "\uFEFF" + event(nil), "not UTF-8": event(map[string]string{"UID:1@x": "UID:\xff"}),
	} {
		if Calendar([]byte(text), sea).OK() {
			t.Errorf("%s: nothing is told", name)
		}
	}
}
