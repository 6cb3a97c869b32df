package column

import (
	"bytes"
	"maps"
	"slices"
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/survey"
)

// Content is what the texts of a column must look like for the column to be recognised.
type Content uint8

// The contents.
const (
	Anything Content = iota
	Numbers
	Dates
	Different // no text occurs twice
	FewWords  // the same few texts repeat
)

// fits says whether the texts have this content. An empty column fits only Anything.
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
	// nine in ten, so that a typing mistake does not hide a column
	return len(s.texts) > 0 && 10*good >= 9*len(s.texts)
}

// days says whether nine in ten of the texts are single days written out, and in which order, in
// the words of dateOrders; order is blank where none need be named. Day numbers of a spreadsheet
// and bare years are not taken: other numbers look the same.
func (s *sample) days() (order string, ok bool) {
	for _, order := range []string{"", s.dateOrder()} {
		good := 0
		for _, text := range s.texts {
			begin, end, _, err := cell.ParseDays(text, dateOrders[order])
			if err == nil && strings.ContainsAny(text, "-/. ") && begin.Equal(end) {
				good++
			}
		}
		if good > 0 && 10*good >= 9*len(s.texts) {
			return order, true
		}
	}
	return "", false
}

// dateOrder returns the order (a key of dateOrders) in which nine in ten of the texts are dates; blank
// if neither order or both fit.
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
