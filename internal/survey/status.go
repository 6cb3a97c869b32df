package survey

import "strings"

// statusWords are the words of the management_status column, by Status.
var statusWords = [...]string{
	Untreated:    "untreated",
	Treated:      "treated",
	Resprout:     "resprout",
	StandingDead: "standing_dead",
}

// String returns the word of the management_status column for s.
func (s Status) String() string {
	if int(s) < len(statusWords) {
		return statusWords[s]
	}
	return statusWords[Untreated]
}

// Statuses returns every status, in their order.
func Statuses() []Status { return []Status{Untreated, Treated, Resprout, StandingDead} }

// ParseStatus reads a word of the management_status column. It ignores case, and accepts a blank or
// hyphen for an underscore.
func ParseStatus(word string) (Status, bool) {
	w := strings.NewReplacer(" ", "_", "-", "_").Replace(strings.ToLower(strings.TrimSpace(word)))
	for s, known := range statusWords {
		if w == known {
			return Status(s), true
		}
	}
	return Untreated, false
}

// OccurrenceWords returns the words of the occurrenceStatus column.
func OccurrenceWords() []string { return []string{"detected", "notDetected"} }

// ParseOccurrence reads a word of the occurrenceStatus column: detected or notDetected, or present or
// absent as in older data sets, ignoring case.
func ParseOccurrence(word string) (detected, ok bool) {
	switch strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToLower(strings.TrimSpace(word))) {
	case "detected", "present":
		return true, true
	case "notdetected", "absent":
		return false, true
	}
	return false, false
}
