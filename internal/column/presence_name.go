package column

import "strings"

// Claimed is how much a column's name says about whether the plant was found.
type Claimed uint8

// What a name can say.
const (
	SaysNothing  Claimed = iota
	MaySay               // "seen": only the column's words can tell
	SaysPresence         // "Present?"
	SaysAbsence          // "Absent": its yes means no
	WordsSay             // only the column's words say it, such as "not detected"
)

// The words of column names [C]. A name says presence when all its words are among these and
// one of them is of presence.
var (
	presenceWords = wordSet("presence present pres detected detection found plantfound plantpresent weedfound presabs presenceabsence fund gefunden vorhanden presencia presente encontrado trouve occurrence")
	absenceWords  = wordSet("absence absent abs notfound notdetected")
	seenWords     = wordSet("seen observed sighted sighting")
	subjectWords  = wordSet("plant plants weed weeds cane canes stand patch target species invasive infestation any is was it yn y n yes no or status flag 1 0 here there site reed giant knotweed")
)

// plainFinds are words that say by themselves whether the plant was found, in the form that
// plain gives.
var plainFinds = wordSet("present absent detected notdetected notpresent notfound nonefound notseen undetected")

func wordSet(text string) map[string]bool {
	set := map[string]bool{}
	for _, word := range strings.Fields(text) {
		set[word] = true
	}
	return set
}

// PresenceOf says what a column's name claims. It is not for our own names.
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

// FindsPlainly says whether a word says by itself whether the plant was found.
func FindsPlainly(word string) bool { return plainFinds[plain(word)] }
