package shapefile_test

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// column is a column of a table, with its text in each record.
type column struct {
	name  string
	kind  byte
	width int
	texts []string
}

// dbf makes a table (dBASE III, "Table File Structure"); a text shorter than its column is padded with
// blanks behind it.
func dbf(records int, columns ...column) []byte {
	head, length := make([]byte, 32), 1
	copy(head, "\x03\x7e\x07\x01")
	for _, c := range columns {
		field := make([]byte, 32)
		copy(field[:11], c.name)
		field[11], field[16], field[17] = c.kind, byte(c.width), byte(c.width>>8)
		head = append(head, field...)
		length += c.width
	}
	head = append(head, '\r')
	binary.LittleEndian.PutUint32(head[4:], uint32(records))
	binary.LittleEndian.PutUint16(head[8:], uint16(len(head)))
	binary.LittleEndian.PutUint16(head[10:], uint16(length))
	for i := range records {
		head = append(head, ' ')
		for _, c := range columns {
			head = append(head, fmt.Sprintf("%-*s", c.width, c.texts[i])[:c.width]...)
		}
	}
	return head
}

// withTable reads null shapes with a table, and describes the records.
func withTable(t *testing.T, shapes int, beside map[string][]byte) (layers.Layer, error) {
	t.Helper()
	var records [][]byte
	for range shapes {
		records = append(records, record(0))
	}
	f := form(records...)
	f.Beside = beside
	return layers.Read(f, layers.Asked{})
}

// TestCellsOfATable: values of every type of column, and the marks of an empty cell; by hand.
func TestCellsOfATable(t *testing.T) {
	for _, c := range []struct {
		kind       byte
		text, want string
	}{
		{'C', "text", "text"}, {'C', "  a b ", "a b"}, {'C', "****", "****"}, {'C', "00000000", "00000000"}, {'C', "?", "?"}, {'C', "1,5", "1,5"}, {'C', "", ""}, {'C', "a" + strings.Repeat("\x00", 11), "a"},
		{'N', "  1.50", "1.50"}, {'N', "-1,5", "-1.5"}, {'N', "****", ""}, {'N', "00000000", "00000000"}, {'N', "", ""},
		{'F', "2,5E3", "2.5E3"}, {'F', "***", ""}, {'D', "20260701", "20260701"}, {'D', "00000000", ""}, {'D', "", ""},
		{'L', "T", "T"}, {'L', "?", ""}, {'L', "F", "F"}, {'M', "  12", "12"},
	} {
		l, err := withTable(t, 1, map[string][]byte{".dbf": dbf(1, column{"a", c.kind, 12, []string{c.text}})})
		if err != nil || len(l.Rows) != 1 || l.Rows[0].Cells[0] != c.want {
			t.Errorf("%c of %q: %q, %v, want %q", c.kind, c.text, l.Describe(), err, c.want)
		}
	}
	// a deleted record goes with its shape; a text of 300 bytes has its length in two bytes
	long := strings.Repeat("0123456789", 30)
	table := dbf(3, column{"id", 'C', 2, []string{"a", "b", "c"}}, column{"long", 'C', 300, []string{long, "x", "y"}}, column{"n", 'N', 3, []string{"1", "2", "3"}})
	table[len(table)-2*306] = '*'
	l, err := withTable(t, 3, map[string][]byte{".dbf": table})
	if diff := cmp.Diff([]string{"id=a long=" + long + " n=1", "id=c long=y n=3"}, l.Describe()); err != nil || diff != "" {
		t.Errorf("%v (-want +got):\n%s", err, diff)
	}
}

// TestNamesOfColumns: up to ten letters; the same name twice, and none, get a number.
func TestNamesOfColumns(t *testing.T) {
	x := []string{"x"}
	l, err := withTable(t, 1, map[string][]byte{".dbf": dbf(1, column{"occurrence", 'C', 1, x}, column{"a", 'C', 1, x}, column{"a", 'C', 1, x}, column{" a ", 'C', 1, x}, column{"", 'C', 1, x}, column{"gr\xf6\xdfe", 'C', 1, x}, column{"gr\xc3\xb6\xc3\x9fe", 'C', 1, x}, column{"zzzzzzzzz\xc3", 'C', 1, x})})
	want := []string{"occurrence", "a", "a~2", "a~3", "~2", "größe", "größe~2", "zzzzzzzzzÃ"}
	if diff := cmp.Diff(want, l.Names); err != nil || diff != "" {
		t.Errorf("%v (-want +got):\n%s", err, diff)
	}
}

// TestBrokenTables: each is refused with where and what, and the remedy.
func TestBrokenTables(t *testing.T) {
	sound := dbf(2, column{"id", 'C', 4, []string{"a", "b"}})
	set := func(at int, b ...byte) []byte {
		out := append([]byte(nil), sound...)
		copy(out[at:], b)
		return out
	}
	for _, c := range []struct {
		name         string
		shapes       int
		table        []byte
		place, found string
	}{
		{"whole", 2, sound, "", ""},
		{"with an end mark", 2, append(append([]byte(nil), sound...), 0x1a), "", ""},
		{"a head cut off", 2, sound[:31], "header", "the .dbf ends early"},
		{"columns cut off", 2, sound[:64], "header", "the .dbf ends early"},
		{"a record cut off", 2, sound[:len(sound)-1], "record 2", "the .dbf ends early"},
		{"a head of 32 bytes", 2, set(8, 32, 0), "header", "the .dbf is none"},
		{"records of nothing", 2, set(10, 0, 0), "header", "the .dbf is none"},
		{"columns too long", 2, set(10, 4, 0), "header", "the columns of the .dbf are longer than its records"},
		{"more shapes", 3, sound, "record 3", "the .dbf has 2 records, the .shp more"},
		{"fewer shapes", 1, sound, "", "the .shp has 1 records, the .dbf 2"},
	} {
		_, err := withTable(t, c.shapes, map[string][]byte{".dbf": c.table})
		var unusable *format.UnusableError
		is := errors.As(err, &unusable)
		if is != (c.found != "") || is && (unusable.Place != c.place || unusable.Found != c.found || unusable.Remedy != "copy the .shp and the .dbf again, together") {
			t.Errorf("%s: %v, want %s", c.name, err, c.found)
		}
	}
	// a head of 33 bytes has no column, which is allowed
	none := dbf(1)
	if l, err := withTable(t, 1, map[string][]byte{".dbf": none}); err != nil || len(l.Names) != 0 || slices.Contains(l.Tell(), noTable) {
		t.Errorf("no column: %v, %q", err, l.Tell())
	}
	limits := format.DefaultLimits()
	limits.Columns = 2
	for n, refused := range map[int]bool{2: false, 3: true} {
		var columns []column
		for i := range n {
			columns = append(columns, column{fmt.Sprint("c", i), 'C', 1, []string{"x"}})
		}
		f := form(record(0))
		f.Beside = map[string][]byte{".dbf": dbf(1, columns...)}
		if _, err := layers.Read(f, layers.Asked{Limits: limits}); (err != nil) != refused || refused && !strings.Contains(err.Error(), "more columns than limits.columns") {
			t.Errorf("%d columns where two are allowed: %v", n, err)
		}
	}
}

// TestEncodings: the .cpg decides, in every form that programs write; else the language byte at 29 of
// the head; else UTF-8, and Windows-1252 where the text is not, which is told. The letters are those of
// the code pages (0x81 is u umlaut in 437 and 850, 0xe4 is a umlaut in 1252 and Cyrillic in 1251).
func TestEncodings(t *testing.T) {
	table := func(text string, language byte) []byte {
		b := dbf(1, column{"a", 'C', 4, []string{text}})
		b[29] = language
		return b
	}
	for _, c := range []struct {
		cpg, text string
		language  byte
		want      string
	}{
		{"UTF-8", "\xc3\xa4", 0, "ä"}, {"utf8\n", "\xc3\xa4", 0, "ä"}, {" 65001 ", "\xc3\xa4", 0xc9, "ä"}, {"", "\xc3\xa4", 0, "ä"}, {"", "\xe4", 0, "ä"}, {"UTF-8", "\xe4", 0xc9, "ä"},
		{"1252", "\xe4", 0, "ä"}, {"ISO 8859-1", "\xe4", 0, "ä"}, {"ISO8859-1", "\xe4", 0, "ä"}, {"iso-8859-1", "\xe4", 0, "ä"}, {"88591", "\xe4", 0, "ä"}, {"8859_1", "\xe4", 0, "ä"},
		{"ANSI 1251", "\xe4", 0, "д"}, {"1251", "\xe4", 0, "д"}, {"CP1251", "\xe4", 0, "д"}, {"windows-1251", "\xe4", 0, "д"}, {"x-cp1251", "\xe4", 0, "д"}, {"ISO 8859-5", "\xe4", 0, "ф"}, {"ISO_8859_5", "\xe4", 0, "ф"}, {"ISO88595", "\xe4", 0, "ф"}, {"8859-5", "\xe4", 0, "ф"},
		{"OEM 850", "\x81", 0, "ü"}, {"437", "\x81", 0, "ü"}, {"CP437", "\x81", 0, "ü"}, {"IBM850", "\x81", 0, "ü"}, {"ibm-850", "\x81", 0, "ü"}, {"ms_850", "\x81", 0, "ü"},
		{"932", "\x82\xa0", 0, "あ"}, {"Shift_JIS", "\x82\xa0", 0, "あ"}, {"936", "\xb0\xa1", 0, "啊"}, {"950", "\xa4\x40", 0, "一"}, {"big5", "\xa4\x40", 0, "一"}, {"949", "\xb0\xa1", 0, "가"}, {"euc_kr", "\xb0\xa1", 0, "가"},
		{"10000", "\x8a", 0, "ä"}, {"54936", "\xb0\xa1", 0, "啊"}, {"874", "\xa1", 0, "ก"}, {"28591", "\xe4", 0, "ä"},
		{"", "\xe4", 0xc9, "д"}, {"", "\x81", 0x01, "ü"}, {"", "\x81", 0x02, "ü"}, {"", "\x8a", 0x04, "ä"}, {"", "\x82\xa0", 0x13, "あ"}, {"", "\xe4", 0xc8, "ä"}, {"", "\xe4", 0x03, "ä"}, {"", "\xe4", 0x57, "ä"},
		{"unknown", "\xe4", 0xc9, "д"}, {"unknown", "\xe4", 0, "ä"},
	} {
		beside := map[string][]byte{".dbf": table(c.text, c.language)}
		if c.cpg != "" {
			beside[".cpg"] = []byte(c.cpg)
		}
		l, err := withTable(t, 1, beside)
		if err != nil || l.Rows[0].Cells[0] != c.want {
			t.Errorf("%q and language %#x: %q, %v, want %s", c.cpg, c.language, l.Describe(), err, c.want)
			continue
		}
		told := strings.Contains(strings.Join(l.Tell(), " "), "encoding-assumed")
		if want := c.text == "\xe4" && c.want == "ä" && (c.cpg == "" && c.language != 0xc8 || c.cpg == "UTF-8" || c.cpg == "unknown"); told != want {
			t.Errorf("%q and language %#x: told %q", c.cpg, c.language, l.Tell())
		}
	}
}

// TestTextsCutInALetter: a text that fills its column may end inside a letter of UTF-8, which is dropped
// where the table is known to be UTF-8, by its .cpg or by another letter of the text.
func TestTextsCutInALetter(t *testing.T) {
	for _, c := range []struct {
		cpg, text, want string
		width           int
	}{
		{"UTF-8", "ab\xc3", "ab", 3}, {"UTF-8", "ab\xe2\x82", "ab", 4}, {"UTF-8", "a\xf0\x9f\x98", "a", 4}, {"UTF-8", "ab\xc3", "abÃ", 4}, {"UTF-8", "\xc3\xa4", "ä", 2},
		{"", "\xc3\xa4\xc3", "ä", 3}, {"", "ab\xc3", "abÃ", 3}, {"", "\xe4b\xc3", "äbÃ", 3}, {"UTF-8", "ab\x80", "ab€", 3},
	} {
		beside := map[string][]byte{".dbf": dbf(1, column{"a", 'C', c.width, []string{c.text}})}
		if c.cpg != "" {
			beside[".cpg"] = []byte(c.cpg)
		}
		l, err := withTable(t, 1, beside)
		if err != nil || l.Rows[0].Cells[0] != c.want {
			t.Errorf("%q in %d bytes, %q: %q, %v, want %s", c.text, c.width, c.cpg, l.Describe(), err, c.want)
		}
	}
}
