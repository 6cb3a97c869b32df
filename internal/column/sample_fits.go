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
	switch c {
	case Anything:
		return true
	case Dates:
		return s.dates(survey.NoOrder)
	case Different:
		return s.filled > 0 && (len(s.texts) == s.filled || len(s.texts) == sampledTexts)
	case FewWords:
		return len(s.texts) > 0 && len(s.texts) <= 30 && !bytes.ContainsAny([]byte(s.texts[0]), "0123456789")
	}
	return false
}

// mostly says whether nine in ten of the texts are good, so that a typing mistake does not hide a
// column; false for a column without texts.
func (s *sample) mostly(good func(text string) bool) bool {
	n := 0
	for _, text := range s.texts {
		if good(text) {
			n++
		}
	}
	return n > 0 && 10*n >= 9*len(s.texts)
}

// dates says whether the texts are dates in the given order.
func (s *sample) dates(order survey.DateOrder) bool {
	return s.mostly(func(text string) bool {
		_, _, _, err := cell.ParseDays(text, order)
		return err == nil
	})
}

// days says whether nine in ten of the texts are single days written out, and in which order, in
// the words of dateOrders; order is blank where none need be named. Day numbers of a spreadsheet
// and bare years are not taken: other numbers look the same.
func (s *sample) days() (order string, ok bool) {
	for _, order := range []string{"", s.dateOrder()} {
		single := func(text string) bool {
			begin, end, _, err := cell.ParseDays(text, dateOrders[order])
			return err == nil && strings.ContainsAny(text, "-/. ") && begin.Equal(end)
		}
		if s.mostly(single) {
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
		if !s.dates(dateOrders[word]) {
			continue
		}
		if found != "" {
			return ""
		}
		found = word
	}
	return found
}
