package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
)

// besideFile counts and hashes what is read of a file beside the named one.
type besideFile struct {
	io.ReadCloser
	ending string
	hash   hash.Hash
	bytes  int64
	from   *reading
}

// newBesideFile begins to read a file beside the one of r.
func newBesideFile(in io.ReadCloser, ending string, r *reading) *besideFile {
	return &besideFile{ReadCloser: in, ending: ending, hash: sha256.New(), from: r}
}

// Read implements io.Reader.
func (b *besideFile) Read(p []byte) (int, error) {
	n, err := b.ReadCloser.Read(p)
	b.hash.Write(p[:n])
	b.bytes += int64(n)
	if b.bytes > b.from.limits.Bytes {
		return 0, b.from.unusable(b.ending, fmt.Sprintf("the %s is larger than the limit", b.ending), "split the file, or raise limits.file_mb")
	}
	return n, err
}

// finish reads what is left and adds the file to those read.
func (b *besideFile) finish(r *reading) {
	io.Copy(io.Discard, b)
	r.parts = append(r.parts, Part{Ending: b.ending, SHA256: hex.EncodeToString(b.hash.Sum(nil)), Bytes: b.bytes})
}
