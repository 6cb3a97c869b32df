package intake

import (
	"strings"
	"unicode"
)

// claimed is how much a column's name says of whether the plant was found.
type claimed uint8

const (
	saysNothing  claimed = iota
	maySay               // "seen": only its words can tell
	saysPresence         // "Present?"
	saysAbsence          // "Absent": whose yes means no
	wordsSay             // only its words do, such as "not detected"
)

// The words of column names [C]. A name says presence when all its words are of
// these and one is of presence.
var (
	presenceWords = wordSet("presence present pres detected detection found plantfound plantpresent weedfound presabs presenceabsence fund gefunden vorhanden presencia presente encontrado trouve occurrence")
	absenceWords  = wordSet("absence absent abs notfound notdetected")
	seenWords     = wordSet("seen observed sighted sighting")
	subjectWords  = wordSet("plant plants weed weeds cane canes stand patch target species invasive infestation any is was it yn y n yes no or status flag 1 0 here there site reed giant knotweed")
)

// plainFinds are words that say by themselves whether the plant was found, as plain
// keeps them.
var plainFinds = wordSet("present absent detected notdetected notpresent notfound nonefound notseen undetected")

func wordSet(text string) map[string]bool {
	set := map[string]bool{}
	for _, word := range strings.Fields(text) {
		set[word] = true
	}
	return set
}

// presenceOf says what a column's name claims. Our own names are not asked.
func presenceOf(name string) claimed {
	present, absent, seen := false, false, false
	for _, word := range nameWords(name) {
		switch {
		case presenceWords[word] && word != "occurrence":
			present = true
		case absenceWords[word]:
			absent = true
		case seenWords[word]:
			seen = true
		case !subjectWords[word] && word != "occurrence":
			return saysNothing
		}
	}
	switch {
	case present:
		return saysPresence
	case absent:
		return saysAbsence
	case seen:
		return maySay
	}
	return saysNothing
}

// nameWords are the words of a column's name in small letters: parted by what is no
// letter or digit, and by capitals, as in PlantFound.
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
