package mapfile

import (
	"bytes"
	"io"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/klauspost/compress/flate"
)

// TestLongPieceWaitsForItsReader: a long piece whose turn it is holds no more than is handed on at once,
// however slow its reader is, and comes whole. Once nobody reads, it ends.
func TestLongPieceWaitsForItsReader(t *testing.T) {
	const chunk, chunks = handedBytes / 2, 24
	for name, reads := range map[string]int{"to the end": chunks, "stops": 4} {
		rng := rand.New(rand.NewPCG(1, 2))
		out, done, ended := make(chan *block, 1), make(chan struct{}), make(chan *block)
		most := 0
		var want []byte
		go func() {
			b := &block{out: out, done: done}
			for range chunks {
				var text bytes.Buffer
				for text.Len() < chunk {
					text.WriteByte(byte(rng.Uint32())) // does not shrink when deflated
				}
				want = append(want, text.Bytes()...)
				b.spill(&text)
				if b.handed > 2 { // known to be its turn
					most = max(most, b.deflated.Len())
				}
			}
			b.pack()
			close(out)
			ended <- b
		}()
		var got bytes.Buffer
		for range reads {
			begun, more := <-out
			if !more {
				break
			}
			got.Write(begun.deflated.Bytes())
			time.Sleep(2 * time.Millisecond)
		}
		close(done)
		b := <-ended
		if reads < chunks {
			continue
		}
		if most > 2*handedBytes {
			t.Errorf("%s: %d bytes held", name, most)
		}
		got.Write(b.deflated.Bytes())
		got.Write(streamEnd)
		read, err := io.ReadAll(flate.NewReader(&got))
		if err != nil || !bytes.Equal(read, want) {
			t.Errorf("%s: %d of %d bytes came back, %v", name, len(read), len(want), err)
		}
	}
}
