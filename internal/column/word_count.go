package column

import (
	"cmp"
	"slices"
	"strings"
)

// WordCount says how often a word occurs in a column of words, and what it was read as.
type WordCount struct {
	Field   string
	Word    string // as written in the file
	Count   int
	Meaning string // our word; blank if none was found
}

// wordCounts counts the words in the fields of words.
type wordCounts struct {
	of   []Field
	all  map[counted]*WordCount
	last []*WordCount // by field: the word counted last, which often comes next again
}

func newWordCounts(fields []Field) wordCounts {
	return wordCounts{fields, map[counted]*WordCount{}, make([]*WordCount, len(fields))}
}

type counted struct {
	field int
	word  string
}

// mostWords is the most different words that are counted in a column. Our choice: a column with more
// holds remarks.
const mostWords = 1000

// Count counts the word of one record.
func (n *wordCounts) Count(field int, text []byte, meaning string) {
	if t := n.last[field]; t != nil && t.Word == string(text) {
		t.Count++
		return
	}
	t := n.all[counted{field, string(text)}] // written so that no string is copied
	if t == nil {
		if len(n.all) >= mostWords {
			return
		}
		t = &WordCount{Field: n.of[field].Name, Word: string(text), Meaning: meaning}
		n.all[counted{field, t.Word}] = t
	}
	t.Count++
	n.last[field] = t
}

// CountMany counts the word of several records.
func (n *wordCounts) CountMany(field int, text, meaning string, times int) {
	n.all[counted{field, text}] = &WordCount{Field: n.of[field].Name, Word: text, Meaning: meaning, Count: times}
}

// Words returns the counted words by field, most frequent first.
func (n *wordCounts) Words() []WordCount {
	keys := make([]counted, 0, len(n.all))
	for key := range n.all { // sorted below
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b counted) int {
		return cmp.Or(cmp.Compare(a.field, b.field), cmp.Compare(n.all[b].Count, n.all[a].Count), strings.Compare(a.word, b.word))
	})
	out := make([]WordCount, len(keys))
	for i, key := range keys {
		out[i] = *n.all[key]
	}
	return out
}
