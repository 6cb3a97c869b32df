package column

import (
	"slices"
	"strings"
)

// sampled is how many features are looked at to understand columns that are not our fields,
// and sampledTexts how many different texts of each column are kept. Our choice: far fewer are
// enough to see what a column of a survey holds.
const (
	sampled      = 1000
	sampledTexts = 200
)

// sample is what was seen in a column that is not our field.
type sample struct {
	filled int
	texts  []string // different ones, in the order met
	seen   map[string]bool
	times  [2]int // that the first two occurred
}

// known returns which of the first two texts a text is, 0 or 1, ignoring case; -1 for neither.
func (s *sample) known(text []byte) int {
	return slices.IndexFunc(s.texts[:min(2, len(s.texts))], func(one string) bool { return strings.EqualFold(one, string(text)) })
}
