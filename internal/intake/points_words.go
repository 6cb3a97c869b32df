package intake

import "driftreach/internal/survey"

type days struct {
	begin, end survey.Day
	ok         bool
	serial     bool // a day number
	utc        int  // minutes since midnight UTC; -1 where the time is not in UTC
}

type statusWord struct {
	status survey.Status
	ok     bool
}

// text is our word; blank for none.
func (w statusWord) text() string {
	if !w.ok {
		return ""
	}
	return w.status.String()
}

type occurrenceWord struct{ detected, ok bool }

// text is our word; blank for none.
func (w occurrenceWord) text() string {
	switch {
	case !w.ok:
		return ""
	case w.detected:
		return "detected"
	}
	return "notDetected"
}

// occurrences are the user's words for whether the plant was found.
type occurrences map[string]string

// of reads a word for whether the plant was found. The user's table takes precedence.
func (w occurrences) of(word string) (detected, ok bool) {
	return pointFields[pointOccurrence].Occurrence(translate(w, word))
}
