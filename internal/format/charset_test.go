package format

import (
	"io"
	"strings"
	"testing"
)

// TestDecode: UTF-8 and UTF-16 by their marks; UTF-16 without one by the zero bytes of Latin text in
// more than half of one of its two places and none in the other, from four bytes on.
func TestDecode(t *testing.T) {
	for text, want := range map[string][2]string{
		"ab": {"UTF-8", "ab"}, "": {"UTF-8", ""}, "\xef\xbb\xbfä": {"UTF-8", "ä"}, "\xef\xbbx": {"UTF-8", "\xef\xbbx"},
		"\xff\xfea\x00": {"UTF-16LE", "a"}, "\xfe\xff\x00a": {"UTF-16BE", "a"}, "a\x00b\x00": {"UTF-16LE", "ab"}, "\x00a\x00b": {"UTF-16BE", "ab"}, "a\x00b": {"UTF-8", "a\x00b"},
		"a\x00\xac\x20b\x00": {"UTF-16LE", "a€b"}, "\x00a\x20\xac\x00b": {"UTF-16BE", "a€b"}, "a\x00bcdefg": {"UTF-8", "a\x00bcdefg"}, "a\x00b\x00cdef": {"UTF-8", "a\x00b\x00cdef"}, "a\x00b\x00c\x00de": {"UTF-16LE", "abc\u6564"},
		"\x00ab\x00": {"UTF-8", "\x00ab\x00"}, "\x00a\x00bcdef": {"UTF-8", "\x00a\x00bcdef"}, "\x00a\x00b\x00cde": {"UTF-16BE", "abc\u6465"}, "a\x00b\x00c\x00\x00e": {"UTF-8", "a\x00b\x00c\x00\x00e"}, "\x00a\x00b\x00cd\x00": {"UTF-8", "\x00a\x00b\x00cd\x00"},
	} {
		r, encoding := Decode([]byte(text), strings.NewReader(text))
		got, err := io.ReadAll(r)
		if encoding != want[0] || string(got) != want[1] || err != nil {
			t.Errorf("%q: %s, %q, %v, want %q", text, encoding, got, err, want)
		}
	}
}

// TestFix: what is not UTF-8 is Windows-1252 as a whole, and told; 0x80 is the euro sign there.
func TestFix(t *testing.T) {
	var c Charset
	if got := c.Fix([]byte("größe")); string(got) != "größe" || c.Assumed {
		t.Errorf("%q, %v", got, c.Assumed)
	}
	for range 2 {
		if got := c.Fix([]byte("gr\xf6\xdfe \x80")); string(got) != "größe €" || !c.Assumed {
			t.Errorf("%q, %v", got, c.Assumed)
		}
	}
}

// TestScanWords: numbers where strconv is asked, and the words that some programs write for none.
func TestScanWords(t *testing.T) {
	for text, want := range map[string]struct {
		next int
		ok   bool
	}{
		"NaN,": {3, true}, "nan ": {3, true}, "Infinity]": {8, true}, "-Infinity]": {9, true}, "inf,": {3, true}, "-inf,": {4, true}, "NaN": {0, false}, "x,": {0, false}, "NAN,": {0, false}, "-,": {0, false}, ".,": {0, false}, "+.5,": {3, true},
		"1e5,": {3, true}, "1E+5x": {4, true}, "1e-5:": {4, true}, "1e,": {1, true}, "1e+,": {1, true}, "1.e2 ": {4, true}, "9:": {1, true}, "1e9:": {3, true}, "5/": {1, true}, "1e999,": {5, true},
	} {
		if _, next, ok := Coordinate([]byte(text), 0); next != want.next || ok != want.ok {
			t.Errorf("%q: up to %d, %v, want %+v", text, next, ok, want)
		}
	}
	for text, want := range map[string]bool{"123456789012345": true, "1234567890123456": false, "12345678.9012345": true, "12345678.90123456": false, "-123456789012345": true, "-.5": true, "5.": true, ".": false, "-": false, "": false, "1.2.3": false, "+1": false, "1e5": false, "1:": false, "1/": false} {
		if _, ok := PlainNumber([]byte(text)); ok != want {
			t.Errorf("%q is plain: %v", text, ok)
		}
	}
}
