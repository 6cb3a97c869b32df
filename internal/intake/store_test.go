package intake

import (
	"fmt"
	"testing"
)

// TestStoresAreLimited: a store of texts and the words of a column keep 65,536 different texts, and no
// more; what comes after is read as well, each time anew. A blank takes no place.
func TestStoresAreLimited(t *testing.T) {
	s, asked := store{}, map[string]int{}
	w := newWords(func(text string) string { asked[text]++; return "is " + text })
	var text []byte
	for i := range 65_536 + 2 {
		text = fmt.Appendf(text[:0], "t%d", i)
		if got, means := s.keep(text), w.of(text); got != string(text) || means != "is "+got {
			t.Fatalf("%s is kept as %q, means %q", text, got, means)
		}
	}
	if len(s) != 65_536 || len(w.known) != 65_536 || s.keep(nil) != "" || len(s) != 65_536 {
		t.Errorf("%d texts and %d words are kept", len(s), len(w.known))
	}
	for _, c := range []struct {
		text  string
		asked int // twice in turn, of what is kept once in all
	}{{"t0", 1}, {"t65535", 1}, {"t65536", 2}, {"t65537", 2}} {
		if s.keep([]byte(c.text)) != c.text || w.of([]byte(c.text)) != "is "+c.text || w.of([]byte(c.text)) != "is "+c.text || asked[c.text] != c.asked {
			t.Errorf("%s was asked %d times, want %d", c.text, asked[c.text], c.asked)
		}
	}
}

// TestPileTakesBlocks: small texts go into one block until it is full, then into a new one, so that no
// block grows; a text larger than a block gets one of its own size.
func TestPileTakesBlocks(t *testing.T) {
	var p pile
	text := []byte("12345678")
	for range 5 * pileBytes / len(text) / 2 {
		p.keep(text)
	}
	if used, room := p.block.Len(), p.block.Cap(); used != pileBytes/2 || room < pileBytes || room >= 2*pileBytes {
		t.Errorf("%d bytes of %d are used after two blocks and a half", used, room)
	}
	if large := make([]byte, 3*pileBytes); p.keep(large) != string(large) || p.block.Len() != len(large) {
		t.Errorf("%d bytes in the block of a large text", p.block.Len())
	}
}
