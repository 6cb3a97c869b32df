package spill_test

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"driftreach/geo/parallel"
	"driftreach/internal/disk"
	"driftreach/internal/spill"
)

// TestShelved: texts come back as they were put, whole and in part, in any order and between puts, from
// disk and from memory.
func TestShelved(t *testing.T) {
	at, draws := dir(t.TempDir()), 0
	rapid.Check(t, func(t *rapid.T) {
		draws++
		s := spill.NewShelf(at, fmt.Sprint(draws))
		if rapid.Bool().Draw(t, "memory") {
			s = spill.NewShelf(nil, "")
		}
		var put [][]byte
		var texts []spill.Text
		for range rapid.IntRange(1, 40).Draw(t, "steps") {
			if len(put) == 0 || rapid.Bool().Draw(t, "put") {
				text := bytes.Repeat(rapid.SliceOfN(rapid.Byte(), 0, 9).Draw(t, "text"), rapid.SampledFrom([]int{1, 1, 1, 9000}).Draw(t, "times"))
				one, err := s.Put(text)
				if err != nil {
					t.Fatal(err)
				}
				put, texts = append(put, text), append(texts, one)
				continue
			}
			i := rapid.IntRange(0, len(put)-1).Draw(t, "which")
			n := rapid.IntRange(0, len(put[i])).Draw(t, "bytes")
			room := make([]byte, rapid.IntRange(0, 20).Draw(t, "room"))
			if got := texts[i].Read(room, n); !bytes.Equal(got, put[i][:n]) {
				t.Errorf("%q, want %q", got, put[i][:n])
			}
		}
		for i := range put {
			if got := texts[i].Bytes(); !bytes.Equal(got, put[i]) || texts[i].Len() != len(put[i]) {
				t.Errorf("%q, want %q", got, put[i])
			}
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	if got := (spill.Text{}).Bytes(); len(got) > 0 {
		t.Errorf("%q", got)
	}
}

// TestShelfCutOff: a file that is shorter than what was put on it ends the task that reads.
func TestShelfCutOff(t *testing.T) {
	at := dir(t.TempDir())
	s := spill.NewShelf(at, "f")
	text, err := s.Put([]byte("a text"))
	if err != nil {
		t.Fatal(err)
	}
	text.Bytes()
	path := filepath.Join(string(at), "f")
	if err := disk.System().Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(s.Close()); err != nil {
		t.Fatal(err)
	}
	file, err := disk.System().Create(path)
	if err == nil {
		_, err = file.Write([]byte("a tex"))
	}
	if err := errors.Join(err, file.Close()); err != nil {
		t.Fatal(err)
	}
	err = parallel.Guard(func() error { text.Bytes(); return nil })
	var fault *parallel.Fault
	if !errors.As(err, &fault) || fault.Value.(error).Error() != "a temporary file is shorter than it was written" {
		t.Error(err)
	}
}
