package mapfile

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/result"
	"driftreach/internal/verify/validate"
)

// TestAppendCell: cells by hand from RFC 4180, section 2, and the rule for formulas.
func TestAppendCell(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"plain", "plain", "plain"},
		{"comma", "a,b", `"a,b"`},
		{"quote", `a"b`, `"a""b"`},
		{"line end", "a\r\nb", "\"a\r\nb\""},
		{"padded", " a ", `" a "`},
		{"formula", "=cmd()", "'=cmd()"},
		{"formula with comma", "=a,b", `"'=a,b"`},
		{"plus", "+1", "'+1"},
		{"minus", "-1", "'-1"},
		{"at", "@a", "'@a"},
		{"tab", "\ta", "'\ta"},
		{"return", "\ra", "\"'\ra\""},
		{"not UTF-8", "a\xffb", "a\uFFFDb"},
		{"blank", "", ""},
	} {
		if got := string(appendCell(nil, c.text)); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// FuzzCell: any two texts make a row that reads back as the same texts, except for the apostrophe
// before a formula; no spreadsheet runs them.
func FuzzCell(f *testing.F) {
	for _, s := range append(nasty, " \t\n\n\ufffd", "\u3000\r\n=1", " \u00a0＝1", "'=1", "\xff=1", "\v=1", "\u0085=1", "\u2028@a") {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		row := appendCell(append(appendCell([]byte("a,b\r\n"), "x"), ','), s)
		row = append(row, "\r\n"...)
		if r := validate.CSV(row); !r.OK() {
			t.Fatalf("%q: %v", row, r.Problems)
		}
		back, err := csv.NewReader(bytes.NewReader(row)).ReadAll()
		if err != nil || len(back) != 2 {
			t.Fatalf("%q: %v", row, err)
		}
		// Go's CSV reader turns CRLF in a cell into a line feed.
		if want := strings.ReplaceAll(check.Cell(s), "\r\n", "\n"); back[1][1] != want {
			t.Fatalf("%q reads back as %q, want %q", s, back[1][1], want)
		}
	})
}

// TestNumbersStayNumbers: a negative number gets no apostrophe.
func TestNumbersStayNumbers(t *testing.T) {
	minus := result.Value{Kind: result.Number, Decimals: 2, Int: -1250}
	if got := string(appendRow(nil, []result.Value{minus, {}, {Kind: result.Flag, Int: 1}})); got != "-12.5,,true\r\n" {
		t.Errorf("%q", got)
	}
}

// TestCSVMutantsAreCaught: the checks of tables find each fault.
func TestCSVMutantsAreCaught(t *testing.T) {
	for _, c := range []struct {
		name, table string
		ok          bool
	}{
		{"right", "a,b\r\n1,-2\r\n", true},
		{"bare line feed", "a,b\n1,2\r\n", false},
		{"no last line end", "a,b\r\n1,2", false},
		{"ragged", "a,b\r\n1\r\n", false},
		{"formula", "a,b\r\n1,=2\r\n", false},
		{"bare quote", "a,b\r\n1,x\"y\r\n", false},
		{"not UTF-8", "a,b\r\n1,\xff\r\n", false},
	} {
		if got := validate.CSV([]byte(c.table)).OK(); got != c.ok {
			t.Errorf("%s: valid is %v", c.name, got)
		}
	}
}
