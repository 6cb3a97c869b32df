package disk

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestReadFileKeepsToItsLimit(t *testing.T) {
	path := filepath.Join(t.TempDir(), "text")
	if err := os.WriteFile(path, []byte("four"), 0o666); err != nil {
		t.Fatal(err)
	}
	if text, err := ReadFile(System(), path, 4); err != nil || string(text) != "four" {
		t.Errorf("%q, %v", text, err)
	}
	_, err := ReadFile(System(), path, 3)
	var at *fs.PathError
	if !errors.As(err, &at) || at.Path != path || at.Err.Error() != "it is larger than 3 bytes" {
		t.Errorf("a byte too many: %v", err)
	}
	if _, err := ReadFile(System(), path+"x", 3); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
}

// The hash of "abc" is that of FIPS 180-2, appendix B.1.
func TestSummed(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	s := NewSummed(ctx, strings.NewReader("abc"))
	if text, err := io.ReadAll(s); err != nil || string(text) != "abc" {
		t.Errorf("%q, %v", text, err)
	}
	if s.Bytes() != 3 || s.Sum() != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Errorf("%d bytes, %s", s.Bytes(), s.Sum())
	}
	stop()
	if _, err := s.Read(make([]byte, 1)); !errors.Is(err, context.Canceled) {
		t.Errorf("after its context: %v", err)
	}
}
