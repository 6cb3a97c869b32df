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

// ReadFile returns the content of a file of at most limit bytes.
func ReadFile(d Disk, path string, limit int64) ([]byte, error) {
	file, err := d.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return ReadAll(file, path, limit)
}

// ReadAll reads to the end what is called name and has at most limit bytes; more is
// an *fs.PathError.
func ReadAll(r io.Reader, name string, limit int64) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err == nil && int64(len(text)) > limit {
		err = &fs.PathError{Op: "read", Path: name, Err: fmt.Errorf("it is larger than %d bytes", limit)}
	}
	return text, err
}

// Summed hashes and counts what is read through it, and ends with its context.
type Summed struct {
	ctx   context.Context
	r     io.Reader
	sum   hash.Hash
	bytes int64
}

// NewSummed returns a Summed of what r gives.
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

// Bytes returns how many were read so far.
func (s *Summed) Bytes() int64 { return s.bytes }

// Sum returns the SHA-256 of what was read so far, in lower-case hexadecimal.
func (s *Summed) Sum() string { return hex.EncodeToString(s.sum.Sum(nil)) }
