package report

import (
	"strings"
	"testing"
	"unicode/utf8"

	"driftreach/internal/check"
)

// FuzzPageTexts: for any text from the field the page is XML with the same elements as for plain
// words, and the text reads back in its visible form.
func FuzzPageTexts(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Add("$[description]")
	f.Add("&#60;b&#62;\u2028\u0085\x00")
	h := gappy(f)
	known := map[string]bool{}
	for _, e := range elements(f, printed(f, invented(1, 1, []string{"Side Water"}), h)) {
		known[e.name] = true
	}
	f.Fuzz(func(t *testing.T, s string) {
		want := strings.Map(func(r rune) rune {
			if r >= 0xfdd0 && r <= 0xfdef || r&0xffff >= 0xfffe {
				return utf8.RuneError // noncharacters (Unicode, section 23.7) are not allowed in HTML
			}
			return r
		}, check.Visible(strings.Join(strings.Fields(s), " ")))
		found := want == "" || utf8.RuneCountInString(want) > longestWord
		for _, e := range elements(t, printed(t, invented(1, 1, []string{s}), h)) {
			if !known[e.name] {
				t.Fatalf("%q brings in an element %s", s, e.name)
			}
			found = found || strings.Contains(e.text, want)
		}
		if !found {
			t.Fatalf("%q is not on the page", want)
		}
	})
}
