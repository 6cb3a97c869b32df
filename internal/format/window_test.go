package format

import (
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

// pieces gives a text in reads of at most n bytes.
type pieces struct {
	text string
	n    int
}

func (p *pieces) Read(b []byte) (int, error) {
	if p.text == "" {
		return 0, io.EOF
	}
	n := copy(b, p.text[:min(p.n, len(p.text))])
	p.text = p.text[n:]
	return n, nil
}

// TestWindowGivesTheWholeText: whatever the pieces are that it comes in, and however much of it is
// consumed at a time; after it is a byte 0, and Place counts what was consumed.
func TestWindowGivesTheWholeText(t *testing.T) {
	var b strings.Builder
	for i := 0; b.Len() < 3*Chunk; i++ {
		b.WriteString(strings.Repeat(string(rune('a'+i%26)), 1000+i))
	}
	text := b.String()
	for _, n := range []int{1000, 4096, firstChunk, Chunk, len(text)} {
		for _, step := range []int{777, 5000, 1 << 30} {
			w := NewWindow(&pieces{text, n})
			var got strings.Builder
			for w.More() {
				if w.Buf[w.End] != 0 {
					t.Fatalf("pieces of %d: the byte after the text is %d", n, w.Buf[w.End])
				}
				take := min(step, w.End-w.Pos)
				got.Write(w.Buf[w.Pos : w.Pos+take])
				w.Pos += take
				if w.Place() != int64(got.Len()) {
					t.Fatalf("pieces of %d: at byte %d after %d", n, w.Place(), got.Len())
				}
			}
			got.Write(w.Buf[w.Pos:w.End])
			if got.String() != text || w.Failed() != nil {
				t.Errorf("pieces of %d, %d at a time: %d of %d bytes, %v", n, step, got.Len(), len(text), w.Failed())
			}
		}
	}
}

// TestWindowKeepsWhatIsAnchored: the text from the anchor on stays in memory, up to 16 MiB; then the
// anchor is gone.
func TestWindowKeepsWhatIsAnchored(t *testing.T) {
	text := "0123456789" + strings.Repeat("x", mostAnchored+4*Chunk)
	w := NewWindow(strings.NewReader(text))
	w.More()
	w.Pos, w.Anchor = 10, 4
	for w.Pos = w.End; w.Anchor >= 0 && w.More(); w.Pos = w.End {
		if w.Anchor >= 0 && string(w.Buf[w.Anchor:w.Anchor+6]) != "456789" {
			t.Fatalf("at byte %d the anchored text is %.10q", w.Place(), w.Buf[w.Anchor:])
		}
		if w.Anchor < 0 && w.Place() <= mostAnchored {
			t.Errorf("the anchor is gone at byte %d", w.Place())
		}
	}
	if w.Anchor >= 0 || w.Place() > 2*mostAnchored {
		t.Errorf("the anchor is at %d when %d bytes are read", w.Anchor, w.Place())
	}
	// exactly so much is kept, and one byte more is not
	for more, kept := range map[int]bool{0: true, 1: false} {
		w := &Window{reader: strings.NewReader("rest"), Buf: make([]byte, mostAnchored+10), Anchor: 1}
		w.Pos = 1 + mostAnchored + more
		w.End = w.Pos
		if w.More(); (w.Anchor == 0) != kept {
			t.Errorf("%d bytes more than are kept: anchor %d", more, w.Anchor)
		}
	}
}

// TestWindowFirst: the first byte that is no white space and no record separator, within half a chunk;
// nothing is consumed.
func TestWindowFirst(t *testing.T) {
	for text, want := range map[string]byte{
		"a": 'a', " \t\r\n\x1eb": 'b', "": 0, " \n": 0, strings.Repeat(" ", 20_000) + "c": 'c', strings.Repeat(" ", Chunk/2-1) + "d": 'd', strings.Repeat(" ", Chunk/2) + "e": 0, "\x00f": 0, "\ufeffg": 0xef,
	} {
		w := NewWindow(iotest.HalfReader(strings.NewReader(text)))
		if got := w.First(); got != want || w.Pos != 0 || w.Place() != 0 {
			t.Errorf("%.10q of %d bytes: %q at %d", text, len(text), got, w.Place())
		}
	}
}

// TestWindowFails: an error of the disk is kept and what came before it given; a reader that gives
// nothing a hundred times is broken, as in bufio.
func TestWindowFails(t *testing.T) {
	broken := errors.New("the disk is broken")
	w := NewWindow(io.MultiReader(strings.NewReader("abc"), iotest.ErrReader(broken)))
	if !w.More() || string(w.Buf[:w.End]) != "abc" || w.Failed() != nil {
		t.Errorf("%q, %v", w.Buf[:w.End], w.Failed())
	}
	if w.More() || !errors.Is(w.Failed(), broken) || w.More() {
		t.Errorf("after it: %v", w.Failed())
	}
	for nothing, want := range map[int]error{99: nil, 100: nil, 101: io.ErrNoProgress} {
		w := NewWindow(&lazy{nothing})
		w.More()
		if w.Failed() != want || (want == nil) != (w.End == 1) {
			t.Errorf("nothing %d times: %d bytes, %v", nothing, w.End, w.Failed())
		}
	}
}

// lazy gives nothing so many times, and then one byte.
type lazy struct{ nothing int }

func (l *lazy) Read(b []byte) (int, error) {
	if l.nothing--; l.nothing >= 0 {
		return 0, nil
	}
	b[0] = 'x'
	return 1, nil
}
