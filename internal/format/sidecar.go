package format

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
)

// Sidecar counts and hashes the bytes read from a file beside the named one.
type Sidecar struct {
	io.ReadCloser
	ending string
	hash   hash.Hash
	bytes  int64
	from   *Reading
}

// NewSidecar opens a file beside the one of r for reading.
func NewSidecar(in io.ReadCloser, ending string, r *Reading) *Sidecar {
	return &Sidecar{ReadCloser: in, ending: ending, hash: sha256.New(), from: r}
}

// Read implements io.Reader.
func (b *Sidecar) Read(p []byte) (int, error) {
	n, err := b.ReadCloser.Read(p)
	b.hash.Write(p[:n])
	b.bytes += int64(n)
	if b.bytes > b.from.Limits.Bytes {
		return 0, b.from.Unusable(b.ending, fmt.Sprintf("the %s is larger than the limit", b.ending), "split the file, or raise limits.file_mb")
	}
	return n, err
}

// Finish reads the rest and adds the file to the list of files read.
func (b *Sidecar) Finish(r *Reading) {
	io.Copy(io.Discard, b)
	r.Parts = append(r.Parts, Part{Ending: b.ending, SHA256: hex.EncodeToString(b.hash.Sum(nil)), Bytes: b.bytes})
}
