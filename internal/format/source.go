package format

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
)

// Source is a file to read. Formats that need random access (GeoPackage, GeoParquet, archives) are read
// into memory, unless Open returns an io.ReaderAt.
type Source struct {
	Name  string // as the user named it, for findings
	Layer string // the layer to read; blank if the file has only one
	Open  func() (io.ReadCloser, error)
	// Beside opens the file of the same name with another ending, such as ".dbf". The error wraps
	// fs.ErrNotExist when there is none. It may be nil.
	Beside   func(ending string) (io.ReadCloser, error)
	Size     int64             // in bytes; 0 when unknown
	Progress func(bytes int64) // called with the number of bytes read so far; may be nil
}

// Part is another file that belongs to the named one, such as a Shapefile's table.
type Part struct {
	Ending string // such as ".dbf"
	SHA256 string
	Bytes  int64
}

// Input counts and hashes the bytes read from a source.
type Input struct {
	Source Source
	Reader io.Reader
	hash   hash.Hash
	Bytes  int64
	limit  int64
}

// NewInput opens a source for reading at most limit bytes.
func NewInput(s Source, r io.Reader, limit int64) *Input {
	return &Input{Source: s, Reader: r, hash: sha256.New(), limit: limit}
}

// Read implements io.Reader.
func (in *Input) Read(p []byte) (int, error) {
	n, err := in.Reader.Read(p)
	if n > 0 {
		in.hash.Write(p[:n])
		in.Bytes += int64(n)
		if in.Source.Progress != nil {
			in.Source.Progress(in.Bytes)
		}
		if in.Bytes > in.limit {
			return 0, &UnusableError{File: in.Source.Name, Place: fmt.Sprintf("byte %d", in.limit),
				Found: "the file is larger than the limit", Remedy: "split the file, or raise limits.file_mb"}
		}
	}
	if err != nil && err != io.EOF {
		err = fmt.Errorf("cannot read %s: %w", in.Source.Name, err)
	}
	return n, err
}

// Sum returns the hash of the bytes read, in hexadecimal.
func (in *Input) Sum() string { return hex.EncodeToString(in.hash.Sum(nil)) }
