package intake

import (
	"slices"
	"strings"

	"driftreach/internal/column"
	"driftreach/internal/format"
)

// presence collects what columns say about whether the plant was found, for a file without our column
// for it. The decision is made after every record has been read, because an absence read as a find
// would add acres that do not exist.
type presence struct {
	columns []presenceColumn
	looked  int // columns of the file handled so far
}

// presenceColumn is a column whose name claims to say whether the plant was found.
type presenceColumn struct {
	column int
	name   string
	claim  column.Claimed
	words  []string // the different ones, in file order; the first is blank
	at     map[string]uint16
	heard  []uint16 // by record: index of its word
	last   uint16   // the word before, which often comes next again
}

// mostPresenceWords is the most different words of such a column. Our choice: a column with more holds
// remarks.
const mostPresenceWords = 1000

// mostPlainWords is the same for a column whose name says nothing. Our choice: found, not found, and a
// few that people write instead.
const mostPlainWords = 6

// hear records what the column says about the record at index at. It returns false if the column has
// too many different words.
func (c *presenceColumn) hear(f *format.Feature, at int) bool {
	var text []byte
	if c.column < len(f.Cells) {
		text = f.Cells[c.column].Text
	}
	for len(c.heard) < at { // records before the first with this column
		c.heard = append(c.heard, 0)
	}
	word := c.last
	if c.words[word] != string(text) {
		known := false
		if word, known = c.at[string(text)]; !known {
			switch {
			case c.claim == column.WordsSay && len(c.words) > mostPlainWords:
				return false
			case len(c.words) >= mostPresenceWords:
				word = mostPresenceWords
			default:
				word = uint16(len(c.words))
				c.words = append(c.words, string(text))
				c.at[string(text)] = word
			}
		}
	}
	if c.heard = append(c.heard[:at], word); word < mostPresenceWords {
		c.last = word
	}
	return true
}

// sorted returns the indices of the words in sorted order, which does not depend on the order of
// records.
func (c *presenceColumn) sorted() []int {
	places := make([]int, len(c.words))
	for i := range places {
		places[i] = i
	}
	slices.SortFunc(places, func(a, b int) int { return strings.Compare(c.words[a], c.words[b]) })
	return places
}
