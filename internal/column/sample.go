package column

import (
	"slices"
	"strings"
)

// sampled is the number of features that are sampled to find out what the other columns hold.
// sampledTexts is the number of different texts kept of each column. Our choice: far fewer are enough
// to see what a survey column holds.
const (
	sampled      = 1000
	sampledTexts = 200
)

// sample is what was seen in a column that is not one of our fields.
type sample struct {
	filled int
	texts  []string // the different ones, in file order
	seen   map[string]bool
	times  [2]int // how often the first two occurred
}

// known says which of the first two texts a text is, 0 or 1, ignoring case; -1 for neither.
func (s *sample) known(text []byte) int {
	return slices.IndexFunc(s.texts[:min(2, len(s.texts))], func(one string) bool { return strings.EqualFold(one, string(text)) })
}
