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
		"joined\u200dletters":           "joined\u200dletters", // scripts need it
	} {
		if got := check.Visible(in); got != want {
			t.Errorf("Visible(%q) = %q, want %q", in, got, want)
		}
	}
}

// Every character that Unicode calls a control or that has the property
// Bidi_Control is hidden, and no letter, mark or digit is.
func TestVisibleAgainstTheTablesOfUnicode(t *testing.T) {
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if r >= 0xd800 && r <= 0xdfff {
			continue // surrogates are no characters
		}
		s := string(r)
		changed := check.Visible(s) != s
		want := unicode.Is(unicode.Cc, r) && !strings.ContainsRune("\t\n\r", r) || unicode.Is(unicode.Bidi_Control, r) ||
			unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r)
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
