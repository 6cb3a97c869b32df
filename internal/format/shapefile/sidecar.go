package shapefile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"

	"driftreach/internal/format"
)

// mostSidecar is the largest .prj or .cpg that is read. Our choice: a hundred times the longest one in
// use.
const mostSidecar = 1 << 20

// sidecar reads a small file beside the document. It returns nil when there is none.
func sidecar(r *format.Reading, d *format.Document, ending string) ([]byte, error) {
	in, err := besides(r, d, ending)
	if in == nil || err != nil {
		return nil, err
	}
	defer in.Close()
	text, err := io.ReadAll(io.LimitReader(in, mostSidecar))
	if err != nil {
		return nil, fmt.Errorf("cannot read the %s beside %s: %w", ending, r.Name, err)
	}
	in.Finish(r)
	return text, nil
}

// besides opens a file beside the document. It returns nil when there is none.
func besides(r *format.Reading, d *format.Document, ending string) (*format.Sidecar, error) {
	in, err := d.Beside(ending)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("cannot open the %s beside %s: %w", ending, r.Name, err)
	}
	return format.NewSidecar(in, ending, r), nil
}
