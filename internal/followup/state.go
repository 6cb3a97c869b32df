package followup

// State is what a stand needs next.
type State uint8

// The states, in the words of the state column.
const (
	ToTreat    State = iota // never treated: waits for treatment
	LookAgain               // treated or dead: look again
	TreatAgain              // regrowth: treat again
	Watch                   // not found: look every year
	Released                // clear long enough: no visit is due
)

var stateWords = [...]string{
	ToTreat:    "to_treat",
	LookAgain:  "look_again",
	TreatAgain: "treat_again",
	Watch:      "watch",
	Released:   "released",
}

// String returns the word of the state column.
func (s State) String() string {
	if int(s) < len(stateWords) {
		return stateWords[s]
	}
	return stateWords[ToTreat]
}

// parseState reads a word of the state column.
func parseState(word string) (State, bool) {
	for s, known := range stateWords {
		if word == known {
			return State(s), true
		}
	}
	return ToTreat, false
}

var lookWords = [...]string{Found: "found", NotFound: "not_found", Nobody: "nobody_looked"}

// String returns the word of the survey column.
func (l Look) String() string {
	if int(l) < len(lookWords) {
		return lookWords[l]
	}
	return lookWords[Nobody]
}

// parseLook reads a word of the survey column.
func parseLook(word string) (Look, bool) {
	for l, known := range lookWords {
		if word == known {
			return Look(l), true
		}
	}
	return Nobody, false
}

// Look is the result of a quarter's survey of a stand.
type Look uint8

// The results.
const (
	Found    Look = iota // detected by a record of the quarter
	NotFound             // surveyed, and nothing found
	Nobody               // not surveyed
)
