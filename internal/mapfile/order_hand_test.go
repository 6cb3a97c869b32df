package mapfile

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/klauspost/compress/flate"

	"driftreach/internal/result"
)

// TestLongPiecesAreHandedOn: pieces of many megabytes, between short ones, come in order and whole, and in
// parts where it is their turn; one that fails ends it.
func TestLongPiecesAreHandedOn(t *testing.T) {
	noise := rand.NewChaCha8([32]byte{7})
	var want bytes.Buffer
	d := &document{run: new(result.Run), packed: true}
	for i := range 9 {
		text := bytes.Repeat([]byte(fmt.Sprintf("piece %d ", i)), 100)
		if i%3 == 1 {
			text = make([]byte, 5<<20) // noise does not get shorter
			_, _ = noise.Read(text)
		}
		want.Write(text)
		d.add(func(m *mapper, b *bytes.Buffer) error {
			w := spilling{b, m.spill}
			for part := range bytes.Lines(text) {
				if _, err := w.Write(part); err != nil {
					return err
				}
			}
			return nil
		})
	}
	for _, workers := range []int{1, 2, 5} {
		var got bytes.Buffer
		var sum uint32
		var size uint64
		blocks := 0
		err := inOrder(d, workers, (*block).pack, func(b *block) error {
			blocks++
			sum, size = crcOfBoth(sum, b.sum, b.size), size+b.size
			_, err := got.Write(b.deflated.Bytes())
			return err
		})
		got.Write(streamEnd)
		whole, failed := io.ReadAll(flate.NewReader(&got))
		if err != nil || failed != nil || !bytes.Equal(whole, want.Bytes()) || size != uint64(want.Len()) || sum != crc32.ChecksumIEEE(want.Bytes()) {
			t.Errorf("%d workers: %d bytes, want %d; %v, %v", workers, len(whole), want.Len(), err, failed)
		}
		if blocks < 9+3 { // a long piece can always hand on once; more often only when it is its turn
			t.Errorf("%d workers: only %d blocks", workers, blocks)
		}
	}
	d.add(func(*mapper, *bytes.Buffer) error { return errors.New("it fails") })
	if err := inOrder(d, 3, (*block).pack, func(*block) error { return nil }); err == nil {
		t.Error("no error")
	}
	if err := inOrder(d, 3, (*block).pack, func(*block) error { return io.ErrShortWrite }); !errors.Is(err, io.ErrShortWrite) {
		t.Error(err)
	}
	// a panic comes to who waits, as an error
	d.pieces[len(d.pieces)-1] = func(*mapper, *bytes.Buffer) error { panic("a fault") }
	if err := inOrder(d, 3, (*block).pack, func(*block) error { return nil }); err == nil || !strings.Contains(err.Error(), "a fault") {
		t.Error(err)
	}
}
