// Package csv reads text tables with cells separated by commas, semicolons or tabs.
package csv

import (
	"bytes"
	"fmt"
	"slices"

	"driftreach/internal/format"
	"driftreach/internal/format/grid"
)

// Format is comma-, semicolon- or tab-separated text with RFC 4180 quoting.
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "CSV", Text: true, Rows: true} }

// Is implements format: text that is in no other format is read as CSV.
func (Format) Is(r *format.Reading, _ *format.Document) bool {
	return r.Text != nil && r.Text.First() != '<'
}

// Read passes one record at a time to take. Line ends may be CRLF, LF or CR. Blank lines and rows with
// only blank cells are skipped.
func (Format) Read(r *format.Reading, _ *format.Document, take func(*format.Feature) error) error {
	c := reader{Grid: grid.Grid{Reading: r}, end: lineEnd(r.Text.Buf[:r.Text.End])}
	if err := c.header(); err != nil {
		return err
	}
	var f format.Feature
	columns := len(r.Schema.Names)
	c.FindGeometry()
	for {
		line, ok, err := c.line()
		if err != nil || !ok {
			return err
		}
		if c.end == '\r' { // the LF of a CRLF
			line = bytes.TrimPrefix(line, []byte{'\n'})
		}
		if len(line) == 0 {
			continue
		}
		c.split(r.Charset.Fix(line))
		if c.Blank() {
			continue
		}
		f.Row++
		f.Wrong = ""
		if !c.Fits(columns) {
			f.Wrong = fmt.Sprintf("the row has %d cells, the header %d", len(c.Cells), columns)
		}
		f.Cells = c.Cells[:min(columns, len(c.Cells))]
		if err := c.ReadShape(&f); err != nil {
			return err
		}
		if err := take(&f); err != nil {
			return err
		}
	}
}

// header reads the first row that is not blank and finds the separator from it.
func (c *reader) header() error {
	for range c.Skip {
		if _, _, err := c.line(); err != nil {
			return err
		}
	}
	if skip, title := c.titleAbove(); c.Skip == 0 && skip > 0 {
		if err := c.Titled(skip, title); err != nil {
			return err
		}
		c.Skip = skip
		return c.header()
	}
	for {
		line, ok, err := c.line()
		if err != nil {
			return err
		}
		if !ok {
			return c.Unusable("", "the file is blank", "check that the right file was named")
		}
		text := c.Charset.Fix(line)
		if len(bytes.TrimSpace(text)) == 0 {
			continue
		}
		// [C] spreadsheets may write the separator on a line of its own: "sep=;".
		if c.separator == 0 && len(text) == 5 && bytes.HasPrefix(text, []byte("sep=")) {
			c.separator = text[4]
			continue
		}
		if c.separator == 0 {
			c.separator = separatorOf(text)
		}
		c.Comma = c.separator != ','
		c.Cells = slices.Grow(c.Cells, bytes.Count(text, []byte{c.separator})+1)
		c.split(text)
		return c.NameColumns()
	}
}
