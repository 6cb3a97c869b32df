package disk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"io/fs"
)

// ReadFile returns the content of a file, at most limit bytes.
func ReadFile(d Disk, path string, limit int64) ([]byte, error) {
	file, err := d.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return ReadAll(file, path, limit)
}

// ReadAll reads r to its end, at most limit bytes; more is an *fs.PathError about name.
func ReadAll(r io.Reader, name string, limit int64) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err == nil && int64(len(text)) > limit {
		err = &fs.PathError{Op: "read", Path: name, Err: fmt.Errorf("it is larger than %d bytes", limit)}
	}
	return text, err
}

// Summed hashes and counts the bytes read through it. It stops when its context is done.
type Summed struct {
	ctx   context.Context
	r     io.Reader
	sum   hash.Hash
	bytes int64
}

// NewSummed returns a Summed that reads from r.
func NewSummed(ctx context.Context, r io.Reader) *Summed {
	return &Summed{ctx: ctx, r: r, sum: sha256.New()}
}

// Read implements io.Reader.
func (s *Summed) Read(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := s.r.Read(p)
	s.sum.Write(p[:n])
	s.bytes += int64(n)
	return n, err
}

// Bytes returns the number of bytes read so far.
func (s *Summed) Bytes() int64 { return s.bytes }

// Sum returns the SHA-256 of the bytes read so far, in lower-case hexadecimal.
func (s *Summed) Sum() string { return hex.EncodeToString(s.sum.Sum(nil)) }
