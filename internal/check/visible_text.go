package check

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible makes text from the field safe to show. Control characters except tab and line ends,
// bidirectional controls and characters without width are replaced by their escapes, such as \u202e.
// The text can then not control a terminal, reverse other text or make two names look the same (Unicode
// Technical Report 36, section 2.3; Boucher and Anderson 2021, "Trojan Source"). Bytes that are not
// UTF-8 become U+FFFD. Text without such characters is returned unchanged, without a copy.
func Visible(s string) string {
	if !strings.ContainsFunc(s, hidden) && utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for _, r := range s { // a byte that is not UTF-8 becomes U+FFFD
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

// hidden says whether a character must be escaped: control characters, bidirectional controls (Unicode
// Standard Annex 9, section 2), the line and paragraph separators, which end a line in some programs,
// and format characters (category Cf), which show nothing, such as the zero-width space, the byte order
// mark and tags. Two kinds of format character are kept: the joiners U+200C and U+200D, which Persian
// and Indian scripts need, and the visible signs written before a number.
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

// IsFormula says whether a spreadsheet may run a cell with this text as a formula. After any blanks it
// begins with a sign that starts a formula, including the full-width and small forms on East Asian
// keyboards, or with a tab or line end (OWASP, CSV injection).
func IsFormula(s string) bool {
	first, _ := utf8.DecodeRuneInString(strings.TrimLeftFunc(s, blank))
	return s != "" && strings.ContainsRune("\t\r\n=+-@＝＋－＠﹦﹢﹣﹫", first)
}

// blank says whether r is a blank of any width (Unicode category Zs).
func blank(r rune) bool { return r == ' ' || r >= 0x80 && unicode.Is(unicode.Zs, r) }

// Cell returns text as a table cell that no spreadsheet runs as a formula: an apostrophe is put before
// a formula, and Visible is applied.
func Cell(s string) string {
	s = Visible(s)
	if IsFormula(s) {
		return "'" + s
	}
	return s
}

// FromCell removes the apostrophe that Cell puts before a formula.
func FromCell(cell string) string {
	if rest, marked := strings.CutPrefix(cell, "'"); marked && IsFormula(rest) {
		return rest
	}
	return cell
}
