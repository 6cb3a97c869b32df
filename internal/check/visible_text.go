package check

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible returns text from the field as people may be shown it: every control
// and bidirectional character but tab and line ends, and each that has no width,
// stands as its escape, as in \u202e, so that it steers no terminal, turns no text
// around and makes no two names look alike (Unicode Technical Report 36, section
// 2.3; Boucher and Anderson 2021, "Trojan Source").
// Bytes that are not UTF-8 become U+FFFD. Text without such characters comes back
// as it is, without a copy.
func Visible(s string) string {
	if !strings.ContainsFunc(s, hidden) && utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for _, r := range s { // a byte that is not UTF-8 comes as U+FFFD
		switch {
		case hidden(r) && r > 0xffff:
			fmt.Fprintf(&b, `\U%08x`, r)
		case hidden(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// hidden says whether a character is a control, directs bidirectional text (Unicode
// Standard Annex 9, section 2; the line and paragraph separators end a line in some
// readers) or is of the format characters (category Cf), which show nothing: the
// zero-width space, the byte order mark, tags. Of those the joiners U+200C and U+200D
// stay, with which Persian and the scripts of India are written, and the signs that
// stand before a number and are seen.
func hidden(r rune) bool {
	switch {
	case r == '\t' || r == '\n' || r == '\r':
		return false
	case r < 0xad:
		return r < 0x20 || r >= 0x7f && r < 0xa0
	case r == 0x200c || r == 0x200d:
		return false
	case r == 0x2028 || r == 0x2029:
		return true
	}
	return unicode.Is(unicode.Cf, r) && !unicode.Is(unicode.Prepended_Concatenation_Mark, r)
}

// IsFormula says whether a spreadsheet may run a cell of this text: it begins,
// blanks aside, with a sign that starts a formula, the full-width and small forms
// of East Asian keyboards among them, or with a tab or line end (OWASP, CSV
// injection).
func IsFormula(s string) bool {
	first, _ := utf8.DecodeRuneInString(strings.TrimLeftFunc(s, blank))
	return s != "" && strings.ContainsRune("\t\r\n=+-@＝＋－＠﹦﹢﹣﹫", first)
}

// blank is a blank of any width (Unicode category Zs).
func blank(r rune) bool { return r == ' ' || r >= 0x80 && unicode.Is(unicode.Zs, r) }

// Cell returns text as a cell that no spreadsheet runs: with an apostrophe before
// a formula, and visible.
func Cell(s string) string {
	s = Visible(s)
	if IsFormula(s) {
		return "'" + s
	}
	return s
}

// FromCell takes away the apostrophe that Cell puts before a formula.
func FromCell(cell string) string {
	if rest, marked := strings.CutPrefix(cell, "'"); marked && IsFormula(rest) {
		return rest
	}
	return cell
}
