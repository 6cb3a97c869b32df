package column

import "strings"

// Claimed is what a column name says about whether the plant was found.
type Claimed uint8

// The possible claims.
const (
	SaysNothing  Claimed = iota
	MaySay               // "seen": only the words in the column can tell
	SaysPresence         // "Present?"
	SaysAbsence          // "Absent": yes means not found
	WordsSay             // only the words in the column tell, as for "not detected"
)

// The words of column names [C]. A name is about presence if all its words are listed here and one of
// them is a word for presence.
var (
	presenceWords = wordSet("presence present pres detected detection found plantfound plantpresent weedfound presabs presenceabsence fund gefunden vorhanden presencia presente encontrado trouve occurrence")
	absenceWords  = wordSet("absence absent abs notfound notdetected")
	seenWords     = wordSet("seen observed sighted sighting")
	subjectWords  = wordSet("plant plants weed weeds cane canes stand patch target species invasive infestation any is was it yn y n yes no or status flag 1 0 here there site reed giant knotweed")
)

// plainFinds are words that say on their own whether the plant was found, in the form that plain
// returns.
var plainFinds = wordSet("present absent detected notdetected notpresent notfound nonefound notseen undetected")

func wordSet(text string) map[string]bool {
	set := map[string]bool{}
	for _, word := range strings.Fields(text) {
		set[word] = true
	}
	return set
}

// PresenceOf returns what a column name claims. It is not used for our own names.
func PresenceOf(name string) Claimed {
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
			return SaysNothing
		}
	}
	switch {
	case present:
		return SaysPresence
	case absent:
		return SaysAbsence
	case seen:
		return MaySay
	}
	return SaysNothing
}

// FindsPlainly says whether a word says on its own whether the plant was found.
func FindsPlainly(word string) bool { return plainFinds[plain(word)] }
