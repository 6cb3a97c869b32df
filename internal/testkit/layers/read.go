package layers

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"slices"
	"testing"
	"testing/iotest"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/format/detect"
	"driftreach/internal/testkit"
)

// Asked says how a test reads a document.
type Asked struct {
	Layer   string
	Limits  format.Limits               // DefaultLimits if zero
	Bytes   int64                       // most bytes that may be read; 0 for no limit
	Stream  bool                        // the document arrives byte by byte and has no random access
	Failing error                       // a disk error in the middle of the document
	Take    func(*format.Feature) error // called for each feature; nil for none
	Lines   bool                        // read lines, not points
	Timed   bool                        // read the dates of track positions
	Skip    int                         // lines above the header, from the settings
	Known   []string                    // columns that are bound to a field
	System  string                      // the reference system that the user names
}

// Layer is what was read from a document.
type Layer struct {
	Format   string
	Encoding string
	Title    string // above the header; blank for none
	Skipped  int    // lines above the header, because of the title
	System   string
	Parts    []format.Part
	Names    []string // of the columns
	Rows     []Row
	Told     []check.Finding
}

// Row is a copy of a feature.
type Row struct {
	ID       string // the format's own id
	Kind     format.ShapeKind
	Name     string       // of the kind
	Points   [][2]float64 // in degrees
	Parts    []int
	Polygons []int
	Cells    []string
	Wrong    string
}

// Column returns the texts of a column; nil if there is none.
func (l Layer) Column(name string) []string {
	for k, column := range l.Names {
		if column != name {
			continue
		}
		out := make([]string, len(l.Rows))
		for i, row := range l.Rows {
			if k < len(row.Cells) {
				out[i] = row.Cells[k]
			}
		}
		return out
	}
	return nil
}

// Read reads a document in any of the formats.
func Read(f Form, asked Asked) (Layer, error) {
	if asked.Limits == (format.Limits{}) {
		asked.Limits = format.DefaultLimits()
	}
	if asked.Bytes == 0 {
		asked.Bytes = asked.Limits.Bytes
	}
	source := testkit.Source(f.File, nil)
	source.Beside = func(ending string) (io.ReadCloser, error) {
		b, ok := f.Beside[ending]
		if !ok {
			return nil, fs.ErrNotExist
		}
		return io.NopCloser(bytes.NewReader(b)), nil
	}
	var text io.Reader = bytes.NewReader(f.Bytes)
	if asked.Stream {
		text = iotest.OneByteReader(text)
	}
	if asked.Failing != nil {
		text = io.MultiReader(bytes.NewReader(f.Bytes[:len(f.Bytes)/2]), iotest.ErrReader(asked.Failing))
	}
	r := &format.Reading{Name: f.File, Layer: asked.Layer, Lines: asked.Lines, Timed: asked.Timed, Limits: asked.Limits, Log: &check.Log{},
		Skip: asked.Skip, Bound: func(name string) bool { return slices.Contains(asked.Known, name) }}
	var out Layer
	r.Titled = func(skip int, title string) error { out.Skipped, out.Title = skip, title; return nil }
	if err := r.Ask(asked.System); err != nil {
		return out, err
	}
	err := detect.Read(r, format.NewInput(source, text, asked.Bytes), func(x *format.Feature) error {
		if asked.Take != nil {
			if err := asked.Take(x); err != nil {
				return err
			}
		}
		r.Degrees(&x.Shape)
		row := Row{ID: string(x.ID), Kind: x.Shape.Kind, Name: x.Shape.Name, Parts: append([]int(nil), x.Shape.Parts...), Polygons: append([]int(nil), x.Shape.Polygons...), Wrong: x.Wrong + x.Shape.Wrong}
		for _, p := range x.Shape.Points {
			row.Points = append(row.Points, p)
		}
		for _, c := range x.Cells {
			row.Cells = append(row.Cells, string(c.Text))
		}
		out.Rows = append(out.Rows, row)
		return nil
	})
	out.Format, out.System, out.Names, out.Told = r.Traits.Name, r.SystemName(), r.Schema.Names, r.Log.Findings()
	out.Encoding, out.Parts = r.Encoding, r.Parts
	return out, err
}

// Hold reads any document and checks what must be true of all: no panic, no error except that the file
// cannot be used, cells only for existing columns, and parts and polygons within the shape.
func Hold(t testing.TB, f Form) {
	t.Helper()
	limits := format.DefaultLimits()
	limits.MemberBytes, limits.Vertices, limits.Records = 1<<24, 100_000, 100_000
	last := 0
	l, err := Read(f, Asked{Limits: limits, Take: func(x *format.Feature) error {
		if x.Row <= last {
			t.Fatalf("row %d comes after row %d", x.Row, last)
		}
		last = x.Row
		for i := range x.Shape.Parts {
			x.Shape.Part(i)
		}
		if n := len(x.Shape.Polygons); n > 0 && x.Shape.Wrong == "" && x.Shape.Polygons[n-1] > len(x.Shape.Parts) {
			t.Fatalf("row %d: polygons end at part %d of %d", x.Row, x.Shape.Polygons[n-1], len(x.Shape.Parts))
		}
		if len(x.Cells) > limits.Columns {
			t.Fatalf("row %d has %d cells", x.Row, len(x.Cells))
		}
		return nil
	}})
	var unusable *format.UnusableError
	if err != nil && (!errors.As(err, &unusable) || unusable.Found == "" || unusable.Remedy == "") {
		t.Fatalf("%s: %v does not say that the file cannot be used, and what to do", f.File, err)
	}
	for i, row := range l.Rows {
		if len(row.Cells) > len(l.Names) {
			t.Fatalf("feature %d has %d cells for %d columns", i+1, len(row.Cells), len(l.Names))
		}
	}
}
