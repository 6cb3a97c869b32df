package intake

import (
	"slices"
	"strings"

	"driftreach/internal/column"
	"driftreach/internal/format"
)

// presence gathers what columns say about whether the plant was found, in a file that has no
// column of ours for it. It decides when every record has been read: an absence read as a find
// would make acres of nothing.
type presence struct {
	columns []presenceColumn
	looked  int // columns of the file looked at so far
}

// presenceColumn is a column whose name claims to say whether the plant was found.
type presenceColumn struct {
	column int
	name   string
	claim  column.Claimed
	words  []string // different ones, in the order met; the first is blank
	at     map[string]uint16
	heard  []uint16 // by record: its word
	last   uint16   // the word heard last: the next is likely to be the same
}

// mostPresenceWords bounds the different words of such a column. Our choice: a
// column with more is one of remarks.
const mostPresenceWords = 1000

// mostPlainWords bounds those of a column whose name says nothing. Our choice: found,
// not found, and a few that people write instead.
const mostPlainWords = 6

// hear notes what the column says about the record at index at; false for a column with too
// many different words to say anything.
func (c *presenceColumn) hear(f *format.Feature, at int) bool {
	var text []byte
	if c.column < len(f.Cells) {
		text = f.Cells[c.column].Text
	}
	for len(c.heard) < at { // records before the column was met
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

// sorted returns the indices of the words in their sorted order, which does not depend on the
// order of records.
func (c *presenceColumn) sorted() []int {
	places := make([]int, len(c.words))
	for i := range places {
		places[i] = i
	}
	slices.SortFunc(places, func(a, b int) int { return strings.Compare(c.words[a], c.words[b]) })
	return places
}
