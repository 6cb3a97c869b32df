package column

import (
	"bytes"
	"maps"
	"slices"

	"driftreach/internal/cell"
	"driftreach/internal/survey"
)

// Content is what a column's texts must be for it to be recognised.
type Content uint8

// The contents.
const (
	Anything Content = iota
	Numbers
	Dates
	Different // no text comes twice
	FewWords  // the same few come again and again
)

// fits says whether the texts are what they should be. An empty column fits nothing
// but anything.
func (s *sample) fits(c Content) bool {
	good := 0
	for _, text := range s.texts {
		switch c {
		case Dates:
			if _, _, _, err := cell.ParseDays(text, survey.NoOrder); err == nil {
				good++
			}
		}
	}
	switch c {
	case Anything:
		return true
	case Different:
		return s.filled > 0 && (len(s.texts) == s.filled || len(s.texts) == sampledTexts)
	case FewWords:
		return len(s.texts) > 0 && len(s.texts) <= 30 && !bytes.ContainsAny([]byte(s.texts[0]), "0123456789")
	}
	// nine in ten: a typing mistake must not hide a column
	return len(s.texts) > 0 && 10*good >= 9*len(s.texts)
}

// dateOrder returns the one order in which nine in ten of the texts are dates,
// in the words of dateOrders; blank for none or both.
func (s *sample) dateOrder() string {
	found := ""
	for _, word := range slices.Sorted(maps.Keys(dateOrders)) {
		good := 0
		for _, text := range s.texts {
			if _, _, _, err := cell.ParseDays(text, dateOrders[word]); err == nil {
				good++
			}
		}
		if len(s.texts) == 0 || 10*good < 9*len(s.texts) {
			continue
		}
		if found != "" {
			return ""
		}
		found = word
	}
	return found
}
