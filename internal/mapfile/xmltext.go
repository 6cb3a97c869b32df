package mapfile

import (
	"bytes"
	"unicode/utf8"
)

// appendXML appends s as XML text, as an xml.Encoder does: markup is escaped, line feeds are left as
// they are, and characters that XML does not allow become the replacement character (XML 1.0, section
// 2.2).
func appendXML[T string | []byte](b []byte, s T) []byte { return appendEscaped(b, s, &escapes) }

// appendCDATA appends s as CDATA (XML 1.0, section 2.7): markup stays as it is, and characters that
// XML does not allow become the replacement character. The mark that ends CDATA is split in two.
func appendCDATA(b, s []byte) []byte {
	b = append(b, "<![CDATA["...)
	b = appendEscaped(b, bytes.ReplaceAll(s, []byte("]]>"), []byte("]]]]><![CDATA[>")), &controls)
	return append(b, "]]>"...)
}

func appendEscaped[T string | []byte](b []byte, s T, escapes *[utf8.RuneSelf]string) []byte {
	start := 0
	for i := 0; i < len(s); {
		if s[i] < utf8.RuneSelf {
			if escape := escapes[s[i]]; escape != "" {
				b = append(append(b, s[start:i]...), escape...)
				start = i + 1
			}
			i++
			continue
		}
		// a slice of at most one rune, so that the text is not copied
		r, size := utf8.DecodeRuneInString(string(s[i:min(i+utf8.UTFMax, len(s))]))
		if r == utf8.RuneError && size == 1 || r == 0xFFFE || r == 0xFFFF {
			b = append(append(b, s[start:i]...), "\uFFFD"...)
			start = i + size
		}
		i += size
	}
	return append(b, s[start:]...)
}

// controls are the replacements for ASCII characters in CDATA; blank for those that need none.
var controls = func() (table [utf8.RuneSelf]string) {
	for c := range byte(' ') {
		table[c] = "\uFFFD"
	}
	table['\t'], table['\n'], table['\r'] = "", "", ""
	return table
}()

// escapes are those in other text.
var escapes = func() [utf8.RuneSelf]string {
	table := controls
	table['\t'], table['\r'] = "&#x9;", "&#xD;"
	table['"'], table['\''], table['&'] = "&#34;", "&#39;", "&amp;"
	table['<'], table['>'] = "&lt;", "&gt;"
	return table
}()

// appendElement appends an element that holds text.
func appendElement[T string | []byte](b []byte, name string, text T) []byte {
	b = append(append(append(b, '<'), name...), '>')
	b = appendXML(b, text)
	return append(append(append(b, "</"...), name...), '>')
}
