package mapfile

import (
	"bytes"
	"hash/crc32"
	"io"
	"sync"

	"github.com/klauspost/compress/flate"

	"driftreach/internal/part"
)

// packers are deflaters of one level, kept for the next document: each takes a megabyte.
type packers struct{ sync.Pool }

var forWords, forOutlines = packersOf(wordsLevel), packersOf(outlinesLevel)

func packersOf(level int) *packers {
	return &packers{sync.Pool{New: func() any {
		w, _ := flate.NewWriter(nil, level) // cannot fail: the level is a valid constant
		return w
	}}}
}

func (p *packers) take(out io.Writer) *flate.Writer {
	w := p.Get().(*flate.Writer)
	w.Reset(out)
	return w
}

// block is a finished piece: its text or, if needed, the deflated text. Blocks are reused, so that a
// document takes the memory of a few.
type block struct {
	text     bytes.Buffer // what is not deflated yet
	deflated bytes.Buffer
	err      error

	out    chan<- *block   // takes the beginning of a long piece, one in advance; nil for none
	done   <-chan struct{} // closed when nobody takes it any more
	handed int             // how often a beginning was handed on
	packer *flate.Writer   // while it is being deflated
	sum    uint32          // CRC-32 of the whole text
	size   uint64          // length of the whole text
}

// handedBytes is how much of a long piece is handed on before its end. Our choice: a deflater itself
// takes as much.
const handedBytes = 1 << 20

// spill deflates the text in a buffer, the block's next, and empties it. If the piece is long, it hands on
// what is deflated.
func (b *block) spill(text *bytes.Buffer) {
	if b.packer == nil {
		b.packer = forWords.take(&b.deflated)
	}
	b.sum = crc32.Update(b.sum, crc32.IEEETable, text.Bytes())
	b.size += uint64(text.Len())
	_, _ = b.packer.Write(text.Bytes()) // into memory: cannot fail
	text.Reset()
	if b.deflated.Len() < handedBytes || b.out == nil {
		return
	}
	begun := &block{deflated: b.deflated}
	if b.handed >= 2 { // the first was taken: it is its turn
		select {
		case b.out <- begun:
		case <-b.done:
		}
	} else {
		select {
		case b.out <- begun:
		default: // not its turn yet
			return
		}
	}
	b.handed++
	b.deflated = bytes.Buffer{}
}

// take appends a text that was deflated elsewhere. What came before it must be deflated.
func (b *block) take(text part.Text) {
	b.sum = crcOfBoth(b.sum, text.Sum, text.Size)
	b.size += text.Size
	b.deflated.Write(text.Deflated)
}

// finish deflates what a block has more than was finished before.
func (b *block) finish() {
	if b.size == 0 || b.packer != nil || b.text.Len() > 0 {
		b.pack()
	}
}

// pack deflates a block separately, up to a byte boundary and without an end mark.
func (b *block) pack() {
	b.spill(&b.text)
	b.err = b.packer.Flush()
	forWords.Put(b.packer)
	b.packer = nil
}
