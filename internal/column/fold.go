package column

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// otherLetters are Latin letters that Unicode does not take apart, as people write them without their marks.
var otherLetters = strings.NewReplacer("ß", "ss", "ø", "o", "æ", "ae", "œ", "oe", "ł", "l", "đ", "d", "ð", "d", "þ", "th", "ı", "i", "°", "")

// unmarked returns a text in lower case without accents and other marks on its letters, and with plain
// digits for raised ones, so that Área is area, Größe is grosse and m² is m2. Letters are taken apart by
// compatibility decomposition (NFKD, Unicode Standard Annex 15).
func unmarked(text string) string {
	text = strings.ToLower(text)
	if isASCII(text) {
		return text
	}
	return otherLetters.Replace(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFKD.String(text)))
}

// key returns a column name as names are compared: without blanks around it, in lower case, and with one
// form for each letter, since some systems write é as two characters (NFC, Unicode Standard Annex 15).
func key(name string) string {
	name = strings.ToLower(strings.TrimSpace(name))
	if isASCII(name) {
		return name
	}
	return norm.NFC.String(name)
}

func isASCII(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { return r >= utf8.RuneSelf }) < 0
}
