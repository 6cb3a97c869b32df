package csv_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// rows reads a text as a CSV file, and again byte by byte behind a header as long as the part of a
// document that is looked at first, and describes the rows as a|b|c.
func rows(t *testing.T, text string) []string {
	t.Helper()
	l, err := layers.Read(layers.Form{File: "a.csv", Bytes: []byte(text)}, layers.Asked{})
	if err != nil {
		t.Errorf("%q: %v", text, err)
	}
	slow, err := layers.Read(layers.Form{File: "a.csv", Bytes: []byte(text)}, layers.Asked{Stream: true})
	if diff := cmp.Diff(l.Rows, slow.Rows); err != nil || diff != "" {
		t.Errorf("%q byte by byte: %v (-whole +pieces):\n%s", text, err, diff)
	}
	return cells(l)
}

func cells(l layers.Layer) []string {
	lines := []string{strings.Join(l.Names, "|")}
	for _, row := range l.Rows {
		line := strings.Join(row.Cells, "|")
		if row.Wrong != "" {
			line += " !" + row.Wrong
		}
		lines = append(lines, line)
	}
	return lines
}

// TestQuoting: RFC 4180, section 2, rules 5 to 7, with the blanks around quotes that people type, and
// text behind a closing quote, which belongs to the cell; by hand.
func TestQuoting(t *testing.T) {
	const long = "0123456789"
	for row, want := range map[string]string{
		`1,2,3`: "1|2|3", `"1","2","3"`: "1|2|3", `1,"a,b",3`: "1|a,b|3", `1,"a ""b"" c",3`: `1|a "b" c|3`, `1,"""a""",3`: `1|"a"|3`, `1,"",3`: "1||3", `,,`: "", `1,,`: "1||",
		`1, "a,b" ,3`: "1|a,b|3", `1,"a"b,3`: "1|ab|3", `1,a"b,3`: `1|a"b|3`, `1,a"b"c,3`: `1|a"b"c|3`, `1,5",3`: `1|5"|3`, ` 1 ,` + "\t2\u00a0" + `,3 `: "1|2|3",
		"1,\"a\nb\",3": "1|a\nb|3", "1,\"a\r\nb\n\n\",3": "1|a\r\nb|3", "\"1\n\",\"2\n\",\"3\"\"\n\"": "1|2|3\"", `"` + long + `,",2,3`: long + ",|2|3", "é,ü,ß": "é|ü|ß",
		`1,"a""",3`: `1|a"|3`, `"1",2,"3"`: "1|2|3", `1,2,"3"`: "1|2|3", `1,2,3,`: "1|2|3", `1,2,3, ,`: "1|2|3",
	} {
		wants := []string{"x|y|z", want, "7|8|9"}
		if want == "" {
			wants = []string{"x|y|z", "7|8|9"}
		}
		for _, end := range []string{"\n", "\r\n"} {
			if strings.Contains(row, "\n") && end != "\n" {
				continue
			}
			if diff := cmp.Diff(wants, rows(t, "x,y,z"+end+row+end+"7,8,9"+end)); diff != "" {
				t.Errorf("%q (-want +got):\n%s", row, diff)
			}
			if diff := cmp.Diff(wants, rows(t, "x,y,z"+end+row+end+"7,8,9")); diff != "" {
				t.Errorf("%q without a last line end (-want +got):\n%s", row, diff)
			}
		}
	}
}

// TestLineEnds: LF, CRLF and CR, blank lines anywhere, and rows whose cells do not fit the header.
func TestLineEnds(t *testing.T) {
	for _, end := range []string{"\n", "\r\n", "\r"} {
		text := strings.ReplaceAll("~ ~a,b~1,2~~,~ ~3,\"x\"~4~5,6,7~5,6,~8,9~", "~", end)
		want := []string{"a|b", "1|2", "3|x", "4 !the row has 1 cells, the header 2", "5|6 !the row has 3 cells, the header 2", "5|6", "8|9"}
		if diff := cmp.Diff(want, rows(t, text)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", end, diff)
		}
	}
	for text, want := range map[string][]string{
		"a,b\r1,2\r\n3,4\r": {"a|b", "1|2", "3|4"},
		"a,b\n1,\"x\ry\"\n": {"a|b", "1|x\ry"},
		"a,\"b\rc\"\n1,2\n": {"a|b\rc", "1|2"}, "a,\"b\rc\",\"d\ne\"\n1,2,3\n": {"a|b\rc|d\ne", "1|2|3"},
		"\"a\",\"b\"\n1,2\n":     {"a|b", "1|2"},
		"a,\"b\n\"\n1,2\n":       {"a|b", "1|2"},
		"a,\"b\r\n\"\r\n1,2\r\n": {"a|b", "1|2"},
		"a\n1\n":                 {"a", "1"},
		"a,b\n":                  {"a|b"},
		"a,b":                    {"a|b"},
	} {
		if diff := cmp.Diff(want, rows(t, text)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
	}
}

// TestSeparators: the one of comma, semicolon and tab that is most frequent in the header, outside of
// quotes, a comma where they are equal; or the one on a line of its own, as spreadsheets write it.
func TestSeparators(t *testing.T) {
	for text, want := range map[string][]string{
		"a;b\n1;2\n": {"a|b", "1|2"}, "a\tb\n1\t2\n": {"a|b", "1|2"}, "a,b;c\n1,2\n": {"a|b;c", "1|2"}, "a;b\tc\n1;2\n": {"a|b\tc", "1|2"}, "a;b;c,d\n1;2;3\n": {"a|b|c,d", "1|2|3"},
		"\"x;y;z\",b\n1,2\n": {"x;y;z|b", "1|2"}, "sep=;\na;b\n1;2\n": {"a|b", "1|2"}, "sep=;\na,b;c\n1;2\n": {"a,b|c", "1|2"}, "sep=|\na|b\n1|2\n": {"a|b", "1|2"}, "sep=;;\n1\n": {"sep=||", ""},
		"a;b\n\"1;2\";3\n": {"a|b", "1;2|3"},
	} {
		if strings.HasPrefix(text, "sep=;;") {
			want = []string{"sep=|column 2|column 3", "1 !the row has 1 cells, the header 3"}
		}
		if diff := cmp.Diff(want, rows(t, text)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
	}
}

// TestTitles: a line above the header with at most half its filled cells is a title, told with the
// number of lines to skip; not where it names a column that is known, nor where lines are skipped by
// the settings, nor behind a line that names the separator.
func TestTitles(t *testing.T) {
	const table = "a,b,c\n1,2,3\n4,5,6\n"
	for _, c := range []struct {
		text, title string
		skipped     int
		asked       layers.Asked
		names       string
	}{
		{table, "", 0, layers.Asked{}, "a|b|c"},
		{"Finds of July\n" + table, "Finds of July", 1, layers.Asked{}, "a|b|c"},
		{"\n\nFinds of July,,\n2026\n\n" + table, "Finds of July", 5, layers.Asked{}, "a|b|c"},
		{"\"Finds, of July\",\" \",\n" + table, "\"Finds, of July\",\" \"", 1, layers.Asked{}, "a|b|c"},
		{"Finds;July\na;b;c;d\n1;2;3;4\n", "Finds;July", 1, layers.Asked{}, "a|b|c|d"},
		{"Finds,July\n" + table, "", 0, layers.Asked{}, "Finds|July"},
		{"id\n" + table, "", 0, layers.Asked{Known: []string{"id"}}, "id"},
		{" \"id\" ,\n" + table, "", 0, layers.Asked{Known: []string{"id"}}, "id|column 2"},
		{"Finds\n" + table, "", 0, layers.Asked{Skip: 1}, "a|b|c"},
		{"Finds\n" + table, "", 0, layers.Asked{Skip: 2}, "1|2|3"},
		{"sep=,\n" + table, "", 0, layers.Asked{}, "a|b|c"},
		{"Finds\na,b,c\n1,2,3", "Finds", 1, layers.Asked{}, "a|b|c"},
		{"Finds\na,b,c\n", "", 0, layers.Asked{}, "Finds"},
		{strings.Repeat("x\n", 11) + table, "x", 11, layers.Asked{}, "a|b|c"},
		{strings.Repeat("x\n", 12) + table, "", 0, layers.Asked{}, "x"},
	} {
		l, err := layers.Read(layers.Form{File: "a.csv", Bytes: []byte(c.text)}, c.asked)
		if err != nil || l.Title != c.title || l.Skipped != c.skipped || strings.Join(l.Names, "|") != c.names {
			t.Errorf("%q: title %q, %d lines, columns %q, %v", c.text, l.Title, l.Skipped, l.Names, err)
		}
	}
}

// TestBrokenTexts: a quote that is never closed, with the line where its row begins, at the end of the
// text or where the row passes the limit; and a row without quotes that does.
func TestBrokenTexts(t *testing.T) {
	const open, remedy = "a quote is opened and never closed", "close the quote, or double a quote that is meant as itself"
	const long, raise = "the row is longer than the limit", "check that the file is CSV, or raise limits.record_mb"
	limits := format.DefaultLimits()
	limits.RecordBytes = 20_000
	body := strings.Repeat("0123456789", 3000)
	for _, c := range []struct{ text, place, found, remedy string }{
		{"a,b\n1,2\n3,\"x\n4,5\n", "line 3", open, remedy},
		{"a,b\n\"1\n2\",2\n3,\"x", "line 3", open, remedy},
		{"a,\"b\n", "line 1", open, remedy},
		{"a,b\n1,\"" + body + "\n" + body, "line 2", open, remedy},
		{"a,b\n1,2\n" + body, "line 3", long, raise},
		{"a,b\n1,2\n3,4\"\n" + body, "line 4", long, raise},
		{" \n\r\n \n ", "", "the file is empty", "check that the right file was named"},
		{strings.Repeat(" ", 5000), "", "the file is blank", "check that the right file was named"},
	} {
		_, err := layers.Read(layers.Form{File: "a.csv", Bytes: []byte(c.text)}, layers.Asked{Limits: limits, Stream: true})
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || unusable.Place != c.place || unusable.Found != c.found || unusable.Remedy != c.remedy {
			t.Errorf("%.40q: %v, want %s: %s", c.text, err, c.place, c.found)
		}
	}
	for n, refused := range map[int]bool{3: false, 2: true} {
		limits := format.DefaultLimits()
		limits.Columns = n
		_, err := layers.Read(layers.Form{File: "a.csv", Bytes: []byte("a,b,c\n1,2,3\n")}, layers.Asked{Limits: limits})
		if (err != nil) != refused || refused && !strings.Contains(err.Error(), fmt.Sprintf("header: 3 columns are more than the limit of %d", n)) {
			t.Errorf("three columns where %d are allowed: %v", n, err)
		}
	}
}

// TestEncodingsOfAText: a byte-order mark of UTF-8 or UTF-16 is no text, UTF-16 is known without one,
// and what is not UTF-8 is Windows-1252 and told.
func TestEncodingsOfAText(t *testing.T) {
	wide := func(text string, order int) string {
		var b strings.Builder
		for _, r := range text {
			pair := [2]byte{byte(r), byte(r >> 8)}
			b.WriteByte(pair[order])
			b.WriteByte(pair[1-order])
		}
		return b.String()
	}
	const table = "größe,b\nä,2\n"
	for text, want := range map[string]string{
		table: "UTF-8", "\ufeff" + table: "UTF-8", wide("\ufeff"+table, 0): "UTF-16LE", wide("\ufeff"+table, 1): "UTF-16BE", wide(table, 0): "UTF-16LE", wide(table, 1): "UTF-16BE", "gr\xf6\xdfe,b\n\xe4,2\n": "Windows-1252",
	} {
		l, err := layers.Read(layers.Form{File: "a.csv", Bytes: []byte(text)}, layers.Asked{})
		if diff := cmp.Diff([]string{"größe|b", "ä|2"}, cells(l)); err != nil || diff != "" || l.Encoding != want {
			t.Errorf("%q: %s, %v (-want +got):\n%s", text, l.Encoding, err, diff)
		}
		if told := len(l.Told) > 0; told != (want == "Windows-1252") {
			t.Errorf("%q: told %q", text, l.Tell())
		}
	}
}
