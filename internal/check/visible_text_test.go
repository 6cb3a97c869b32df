package check_test

import (
	"strings"
	"testing"
	"unicode"

	"driftreach/internal/check"
)

// Code points by hand from Unicode Standard Annex 9, table 1 and section 2.
func TestVisible(t *testing.T) {
	for in, want := range map[string]string{
		"":                              "",
		"Cañón Creek 芦竹":                "Cañón Creek 芦竹",
		"two\nlines\tand\r":             "two\nlines\tand\r",
		"bell\a escape\x1b[31m del\x7f": `bell\u0007 escape\u001b[31m del\u007f`,
		"next\u0085line csi\u009b":      `next\u0085line csi\u009b`,
		"a\u202eb\u2066c\u2069\u200f":   `a\u202eb\u2066c\u2069\u200f`,
		"\u061c\u200e\u2028\u2029":      `\u061c\u200e\u2028\u2029`,
		"bad\xff":                       "bad\uFFFD",
		"joined\u200dletters\u200c":     "joined\u200dletters\u200c", // scripts need them
		"two\u200bnames\ufeff":          `two\u200bnames\ufeff`,
		"soft\u00adhyphen \U000e0041":   `soft\u00adhyphen \U000e0041`,
		"\u0600\u0661":                  "\u0600\u0661", // the Arabic sign of a number is seen
	} {
		if got := check.Visible(in); got != want {
			t.Errorf("Visible(%q) = %q, want %q", in, got, want)
		}
	}
}

// Every character that Unicode calls a control, that has the property Bidi_Control or
// that shows nothing is hidden, and no letter, mark or digit is. Those that show
// nothing are the format characters of UnicodeData.txt (Unicode 15, chapter 23).
func TestVisibleAgainstTheTablesOfUnicode(t *testing.T) {
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if r >= 0xd800 && r <= 0xdfff {
			continue // surrogates are no characters
		}
		s := string(r)
		changed := check.Visible(s) != s
		want := unicode.Is(unicode.Cc, r) && !strings.ContainsRune("\t\n\r", r) || unicode.Is(unicode.Bidi_Control, r) ||
			unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) ||
			r == 0xad || r == 0x180e || r == 0x200b || r >= 0x2060 && r <= 0x206f && r != 0x2065 || r == 0xfeff || r >= 0xfff9 && r <= 0xfffb ||
			r >= 0x13430 && r <= 0x1343f || r >= 0x1bca0 && r <= 0x1bca3 || r >= 0x1d173 && r <= 0x1d17a || r == 0xe0001 || r >= 0xe0020 && r <= 0xe007f
		if changed != want {
			t.Errorf("U+%04X: shown as an escape: %v, want %v", r, changed, want)
		}
	}
}

// The signs are those of OWASP, "CSV Injection", with their full-width forms
// (Unicode block Halfwidth and Fullwidth Forms).
func TestCellsAreNoFormulas(t *testing.T) {
	for _, s := range []string{
		"=1+1", "+1", "-1", "@sum", "＝1+1", "＋1", "－1", "＠sum", " =1", "\u00a0=1", "\u3000＝1", "\t=1", "\rx", "\nx",
		"﹦1", "﹢1", "﹣1", "﹫a", " \t\n\n\ufffd", "\u2003\r", " \u00a0 =1", "\u202f＝1",
	} {
		if !check.IsFormula(s) {
			t.Errorf("%q is no formula", s)
		}
		cell := check.Cell(s)
		if cell != "'"+s || check.FromCell(cell) != s {
			t.Errorf("%q: cell %q, back %q", s, cell, check.FromCell(cell))
		}
		if check.Cell(cell) != cell {
			t.Errorf("%q: a cell made a cell again is %q", s, check.Cell(cell))
		}
	}
	for _, s := range []string{"", "plain", "a=b", "'quoted'", "3 - 4", " ", "\u3000", " a\n=1", "\xff=1"} {
		if check.IsFormula(s) || check.Cell(s) != check.Visible(s) || check.FromCell(s) != s {
			t.Errorf("%q: cell %q, back %q", s, check.Cell(s), check.FromCell(s))
		}
	}
}
