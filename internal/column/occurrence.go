package column

import (
	"slices"

	"driftreach/internal/survey"
)

// occurrence is the field that says whether the plant was found (Darwin Core).
const occurrence = "occurrenceStatus"

// Occurrence reads a word for whether the plant was found: our words and the field's words of
// survey sheets.
func (f Field) Occurrence(word string) (detected, known bool) {
	if detected, known = survey.ParseOccurrence(word); known {
		return detected, known
	}
	switch f.Word(word) {
	case "detected":
		return true, true
	case "notDetected":
		return false, true
	}
	return false, false
}

// tellsOccurrence says whether every text says if the plant was found.
func (s *sample) tellsOccurrence(f Field) bool {
	for _, text := range s.texts {
		if _, known := f.Occurrence(text); !known {
			return false
		}
	}
	return len(s.texts) > 0
}

// mostYesAndNo is how many different words for yes and no a column may have. Our choice.
const mostYesAndNo = 8

// yesAndNo returns the words of a column, sorted, when all of them say yes or no and both
// occur; nothing for any other column.
func (s *sample) yesAndNo(f Field) []string {
	yes, no := false, false
	for _, text := range s.texts {
		found, known := f.Occurrence(text)
		if !known || len(s.texts) > mostYesAndNo {
			return nil
		}
		yes, no = yes || found, no || !found
	}
	if !yes || !no {
		return nil
	}
	return slices.Sorted(slices.Values(s.texts))
}
