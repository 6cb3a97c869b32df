package intake

import (
	"bytes"
	"strings"
)

// mostKept limits the memory of a store of texts. Our choice: 65 536 texts, more than any programme has
// observers or parcels.
const mostKept = 1 << 16

// store keeps one string for equal texts.
type store map[string]string

func (s store) keep(text []byte) string {
	if len(text) == 0 {
		return ""
	}
	if kept, ok := s[string(text)]; ok {
		return kept
	}
	fresh := string(text)
	if len(s) < mostKept {
		s[fresh] = fresh
	}
	return fresh
}

// pileBytes is how much memory a pile allocates at once. Our choice: thousands of ids.
const pileBytes = 1 << 16

// pile keeps texts that are all different in one block, which takes less time and memory than a
// separate string for each. Do not copy a pile in use.
type pile struct{ block strings.Builder }

func (p *pile) keep(text []byte) string {
	if len(text) == 0 {
		return ""
	}
	if p.block.Cap()-p.block.Len() < len(text) {
		p.block = strings.Builder{} // the strings kept so far still use the old block
		p.block.Grow(max(pileBytes, len(text)))
	}
	at := p.block.Len()
	p.block.Write(text)
	return p.block.String()[at:]
}

// words remembers what each text in a column means.
type words[T any] struct {
	known map[string]*word[T]
	last  *word[T] // often comes next again
	mean  func(text string) T
}

type word[T any] struct {
	text    string
	meaning T
}

func newWords[T any](mean func(string) T) words[T] {
	return words[T]{known: map[string]*word[T]{}, mean: mean}
}

func (w *words[T]) of(text []byte) T {
	if w.last != nil && w.last.text == string(text) {
		return w.last.meaning
	}
	found := w.known[string(text)]
	if found == nil {
		fresh := string(text)
		found = &word[T]{fresh, w.mean(fresh)}
		if len(w.known) < mostKept {
			w.known[fresh] = found
		}
	}
	w.last = found
	return found.meaning
}

// translate returns our word for the user's, from the user's table.
func translate(table map[string]string, word string) string {
	if ours, ok := table[strings.ToLower(strings.TrimSpace(word))]; ok {
		return ours
	}
	return word
}

func lower(text []byte) []byte { return bytes.ToLower(bytes.TrimSpace(text)) }
