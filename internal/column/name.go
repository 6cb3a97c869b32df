package column

import (
	"strings"
	"unicode"
)

// plain returns only the letters and digits of a name, in lower case and without accents.
func plain(name string) string {
	return strings.Map(func(r rune) rune {
		if isMark(r) || strings.ContainsRune("/#?!*'\"", r) {
			return -1
		}
		return r
	}, unmarked(name))
}

// isMark says whether a rune separates the words of a name.
func isMark(r rune) bool { return strings.ContainsRune(" _-()[].,:", r) }

// spacedWords splits a name into words at marks, in lower case.
func spacedWords(name string) []string {
	return strings.FieldsFunc(strings.ToLower(strings.TrimSpace(name)), isMark)
}

// nameWords splits a column name into words, in lower case, at every character that is not a letter or
// digit, and at capitals, as in PlantFound.
func nameWords(name string) []string {
	var words []string
	var word []rune
	end := func() {
		if len(word) > 0 {
			words = append(words, strings.ToLower(string(word)))
		}
		word = word[:0]
	}
	last := rune(0)
	for _, r := range name {
		switch {
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			end()
		case unicode.IsUpper(r) && unicode.IsLower(last):
			end()
			word = append(word, r)
		default:
			word = append(word, r)
		}
		last = r
	}
	end()
	return words
}
