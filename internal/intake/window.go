package intake

import "io"

// chunk is how much is read at once. Our choice: large enough that reading
// costs nothing beside parsing, small enough for the processor's cache.
const chunk = 256 << 10

// firstChunk is how much is read at first, so that a small file costs little.
// Our choice: the files of a unit test or a single day fit.
const firstChunk = 16 << 10

// mostAnchored is how much text an anchor can hold in memory. Our choice: one
// line of newline-delimited GeoJSON is seldom a hundredth of it, 16 MiB.
const mostAnchored = 16 << 20

// window is the part of a text that is in memory. The byte after the text is
// always 0, so that a scan which stops at 0 needs no other bound.
type window struct {
	reader io.Reader
	buf    []byte // buf[pos:end] is unread text; buf[end] is 0
	pos    int
	end    int
	anchor int   // the text from here on stays in memory; -1 for none
	base   int64 // place of buf[0] in the text
	err    error // io.EOF or what reading met
}

// newWindow begins to read a text.
func newWindow(r io.Reader) *window {
	return &window{reader: r, buf: make([]byte, firstChunk+1), anchor: -1}
}

// more reads on, moving the unread text to the front and, when it fills the
// buffer, doubling it. It returns false at the end of the text.
func (w *window) more() bool {
	if w.err != nil {
		return false
	}
	behind := w.pos
	if w.pos-w.anchor > mostAnchored {
		w.anchor = -1
	}
	if w.anchor >= 0 {
		behind, w.anchor = w.anchor, 0
	}
	if behind > 0 {
		w.base += int64(behind)
		w.end = copy(w.buf, w.buf[behind:w.end])
		w.pos -= behind
	}
	switch {
	case w.base > 0 && len(w.buf) < chunk:
		w.grow(chunk + 1)
	case w.end > len(w.buf)/2:
		w.grow(2 * len(w.buf))
	}
	for tries := 0; w.err == nil; tries++ {
		n, err := w.reader.Read(w.buf[w.end : len(w.buf)-1])
		w.end += n
		w.err = err
		if n > 0 {
			break
		}
		// [C] as bufio: a reader that gives nothing a hundred times is broken.
		if tries == 100 {
			w.err = io.ErrNoProgress
		}
	}
	w.buf[w.end] = 0
	return w.err == nil || w.err == io.EOF && w.end > w.pos
}

// grow makes the buffer n long. Unlike append, it leaves room that is not filled yet
// untouched, for which the system need not hand out memory.
func (w *window) grow(n int) {
	longer := make([]byte, n)
	copy(longer, w.buf[:w.end])
	w.buf = longer
}

// failed returns what reading met, other than the end of the text.
func (w *window) failed() error {
	if w.err == io.EOF {
		return nil
	}
	return w.err
}

// place returns how many bytes of the text are behind.
func (w *window) place() int64 { return w.base + int64(w.pos) }

// first returns the first byte of the text that is neither white space nor a
// record separator, 0 for none within a chunk. It reads on and passes nothing over.
func (w *window) first() byte {
	for i := w.pos; i < chunk/2; i++ {
		if i == w.end && !w.more() || i == w.end {
			return 0
		}
		switch b := w.buf[i]; b {
		case ' ', '\t', '\r', '\n', 0x1e:
		default:
			return b
		}
	}
	return 0
}
