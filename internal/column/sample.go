package column

import (
	"slices"
	"strings"
)

// sampled is how many features are looked at to understand columns that are
// none of ours, and sampledTexts how many different texts of each are kept. Our
// choice: the columns of a survey show their kind in far fewer.
const (
	sampled      = 1000
	sampledTexts = 200
)

// sample is what was seen of a column that is none of ours.
type sample struct {
	filled int
	texts  []string // different ones, in the order met
	seen   map[string]bool
	times  [2]int // that the first two came
}

// known returns which of the first two texts a text is, whatever its case; -1 for
// neither.
func (s *sample) known(text []byte) int {
	return slices.IndexFunc(s.texts[:min(2, len(s.texts))], func(one string) bool { return strings.EqualFold(one, string(text)) })
}
