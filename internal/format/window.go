package format

import "io"

// Chunk is how much is read at once. Our choice: large enough that reading takes little time compared
// with parsing, small enough for the processor's cache.
const Chunk = 256 << 10

// firstChunk is the size of the first read, so that a small file needs little memory. Our choice: it
// holds the files of a unit test or of a single day.
const firstChunk = 16 << 10

// mostAnchored is the most text that an anchor keeps in memory: 16 MiB. Our choice: one line of
// newline-delimited GeoJSON is seldom a hundredth of it.
const mostAnchored = 16 << 20

// Window is the part of a text that is in memory. The byte after the text is always 0, so a scan that
// stops at 0 needs no other bound.
type Window struct {
	reader io.Reader
	Buf    []byte // buf[pos:end] is unread text; buf[end] is 0
	Pos    int
	End    int
	Anchor int   // the text from here on stays in memory; -1 for none
	base   int64 // offset of buf[0] in the text
	Err    error // io.EOF or a read error
}

// NewWindow opens a window on a text.
func NewWindow(r io.Reader) *Window {
	return &Window{reader: r, Buf: make([]byte, firstChunk+1), Anchor: -1}
}

// More reads more text. It moves the unread text to the front and doubles the buffer if the text fills
// it. It returns false at the end of the text.
func (w *Window) More() bool {
	if w.Err != nil {
		return false
	}
	behind := w.Pos
	if w.Pos-w.Anchor > mostAnchored {
		w.Anchor = -1
	}
	if w.Anchor >= 0 {
		behind, w.Anchor = w.Anchor, 0
	}
	if behind > 0 {
		w.base += int64(behind)
		w.End = copy(w.Buf, w.Buf[behind:w.End])
		w.Pos -= behind
	}
	switch {
	case w.base > 0 && len(w.Buf) < Chunk:
		w.grow(Chunk + 1)
	case w.End > len(w.Buf)/2:
		w.grow(2 * len(w.Buf))
	}
	for tries := 0; w.Err == nil; tries++ {
		n, err := w.reader.Read(w.Buf[w.End : len(w.Buf)-1])
		w.End += n
		w.Err = err
		if n > 0 {
			break
		}
		// [C] as bufio: a reader that returns nothing a hundred times is broken.
		if tries == 100 {
			w.Err = io.ErrNoProgress
		}
	}
	w.Buf[w.End] = 0
	return w.Err == nil || w.Err == io.EOF && w.End > w.Pos
}

// grow makes the buffer n bytes long. Unlike append, it does not touch the part that is not filled yet,
// so the system need not provide memory for it.
func (w *Window) grow(n int) {
	longer := make([]byte, n)
	copy(longer, w.Buf[:w.End])
	w.Buf = longer
}

// Failed returns the read error, nil if the text simply ended.
func (w *Window) Failed() error {
	if w.Err == io.EOF {
		return nil
	}
	return w.Err
}

// Place returns how many bytes of the text have been consumed.
func (w *Window) Place() int64 { return w.base + int64(w.Pos) }

// First returns the first byte of the text that is neither white space nor a record separator, or 0 if
// there is none within a chunk. It reads ahead but consumes nothing.
func (w *Window) First() byte {
	for i := w.Pos; i < Chunk/2; i++ {
		if i == w.End && !w.More() || i == w.End {
			return 0
		}
		switch b := w.Buf[i]; b {
		case ' ', '\t', '\r', '\n', 0x1e:
		default:
			return b
		}
	}
	return 0
}
