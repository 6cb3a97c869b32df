package testkit

import (
	"io"

	"driftreach/internal/format"
)

// Source returns a source that can read r once.
func Source(name string, r io.Reader) format.Source {
	return format.Source{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(r), nil }}
}
