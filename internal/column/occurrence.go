package column

import (
	"slices"

	"driftreach/internal/survey"
)

// occurrence is the field for whether the plant was found (Darwin Core).
const occurrence = "occurrenceStatus"

// Occurrence reads a word that says whether the plant was found: one of ours, or one that survey sheets
// use for the field.
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

// tellsOccurrence says whether every text is such a word.
func (s *sample) tellsOccurrence(f Field) bool {
	for _, text := range s.texts {
		if _, known := f.Occurrence(text); !known {
			return false
		}
	}
	return len(s.texts) > 0
}

// mostYesAndNo is the most different words for yes and no that a column may have. Our choice.
const mostYesAndNo = 8

// yesAndNo returns the words of a column, sorted, if all of them mean yes or no and both occur;
// otherwise nothing.
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
