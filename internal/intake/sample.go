package intake

import (
	"slices"
	"strings"

	"driftreach/internal/format"
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

// look samples the columns of a feature that are carried.
func (r *featureReader) look(f *format.Feature) {
	if r.features > sampled {
		r.lookOn(f)
		return
	}
	for len(r.samples) < len(r.binding.bound) {
		r.samples = append(r.samples, sample{})
	}
	for i := range f.Cells {
		text := f.Cells[i].Text
		if len(text) == 0 || r.binding.extra[i] < 0 {
			continue
		}
		s := &r.samples[i]
		s.filled++
		if k := s.known(text); k >= 0 {
			s.times[k]++
			continue
		}
		if len(s.texts) >= sampledTexts || s.seen[string(text)] {
			continue
		}
		if s.seen == nil {
			s.seen = map[string]bool{}
		}
		s.seen[string(text)] = true
		if len(s.texts) < 2 {
			s.times[len(s.texts)]++
		}
		s.texts = append(s.texts, string(text))
	}
}

// known returns which of the first two texts a text is, whatever its case; -1 for
// neither.
func (s *sample) known(text []byte) int {
	return slices.IndexFunc(s.texts[:min(2, len(s.texts))], func(one string) bool { return strings.EqualFold(one, string(text)) })
}

// lookOn goes on with the columns that had two values at most so far.
func (r *featureReader) lookOn(f *format.Feature) {
	for i := range min(len(f.Cells), len(r.samples)) {
		s, text := &r.samples[i], f.Cells[i].Text
		if len(text) == 0 || len(s.texts) > 2 || r.binding.extra[i] < 0 {
			continue
		}
		s.filled++
		switch k := s.known(text); {
		case k >= 0:
			s.times[k]++
		default:
			s.texts = append(s.texts, string(text))
			if n := len(s.texts); n <= 2 {
				s.times[n-1]++
			}
		}
	}
}

// WordCount is how often a column of words has a word, and what it was read as.
type WordCount struct {
	Field   string
	Word    string // as the file has it
	Count   int
	Meaning string // our word; blank when it has none
}

// mostWords bounds the different words of a column that are counted. Our choice:
// a column with more is one of remarks.
const mostWords = 1000

// tally counts one record's word.
func (r *featureReader) tally(field int, text []byte, meaning string) {
	if t := r.counted[field]; t != nil && t.Word == string(text) {
		t.Count++
		return
	}
	t := r.tallies[tallied{field, string(text)}] // written so that nothing is copied
	if t == nil {
		if len(r.tallies) >= mostWords {
			return
		}
		t = &WordCount{Field: r.binding.fields[field].name, Word: string(text), Meaning: meaning}
		r.tallies[tallied{field, t.Word}] = t
	}
	t.Count++
	r.counted[field] = t
}

// tallyMany counts several records' word.
func (r *featureReader) tallyMany(field int, text, meaning string, times int) {
	r.tallies[tallied{field, text}] = &WordCount{Field: r.binding.fields[field].name, Word: text, Meaning: meaning, Count: times}
}

type tallied struct {
	field int
	word  string
}

// words returns the counted words in the order of fields, most frequent first.
func (r *featureReader) words() []WordCount {
	keys := make([]tallied, 0, len(r.tallies))
	for key := range r.tallies { // sorted below
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b tallied) int {
		return orderWords(a, b, r.tallies[a].Count, r.tallies[b].Count)
	})
	out := make([]WordCount, len(keys))
	for i, key := range keys {
		out[i] = *r.tallies[key]
	}
	return out
}
