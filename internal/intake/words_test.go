package intake

import (
	"fmt"
	"strings"
	"testing"
)

// What a pile keeps stays as it was, over the end of a block and past its size.
func TestPileKeepsTexts(t *testing.T) {
	var p pile
	var want, got []string
	text := make([]byte, 0, 2*pileBytes)
	for i := range 3 * pileBytes / 8 {
		text = fmt.Appendf(text[:0], "id-%d", i)
		if i%5000 == 0 {
			text = append(text, strings.Repeat("x", i/5000*pileBytes/4)...)
		}
		want, got = append(want, string(text)), append(got, p.keep(text))
	}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("text %d is %.40q, want %.40q", i, got[i], want[i])
		}
	}
	if p.keep(nil) != "" {
		t.Error("no text is not blank")
	}
}
