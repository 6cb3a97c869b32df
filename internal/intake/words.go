package intake

import (
	"bytes"
	"strings"
)

// mostKept bounds the memory of a store of texts. Our choice: more than the
// observers or parcels of any programme, 65 536 texts.
const mostKept = 1 << 16

// store gives equal texts one string.
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

// words remembers what each text of a column means.
type words[T any] struct {
	known map[string]T
	mean  func(text string) T
}

func newWords[T any](mean func(string) T) words[T] {
	return words[T]{known: map[string]T{}, mean: mean}
}

func (w words[T]) of(text []byte) T {
	if meaning, ok := w.known[string(text)]; ok {
		return meaning
	}
	fresh := string(text)
	meaning := w.mean(fresh)
	if len(w.known) < mostKept {
		w.known[fresh] = meaning
	}
	return meaning
}

// translate returns our word for theirs, by the user's table.
func translate(table map[string]string, word string) string {
	if ours, ok := table[strings.ToLower(strings.TrimSpace(word))]; ok {
		return ours
	}
	return word
}

func lower(text []byte) []byte { return bytes.ToLower(bytes.TrimSpace(text)) }
