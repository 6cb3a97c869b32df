package intake

import (
	"bytes"
	"driftreach/internal/format"
	"fmt"
	"slices"
)

// csvFormat is comma-, semicolon- or tab-separated text with RFC 4180 quoting.
type csvFormat struct{}

// Traits implements format.
func (csvFormat) Traits() format.Traits { return format.Traits{Name: "CSV", Text: true, Rows: true} }

// Is implements format: a text that is nothing else is rows and cells.
func (csvFormat) Is(r *format.Reading, _ *format.Document) bool {
	return r.Text != nil && r.Text.First() != '<'
}

// Read gives one record at a time to take. Line ends are CRLF, LF or CR; blank
// lines and rows of blank cells are passed over.
func (csvFormat) Read(r *format.Reading, _ *format.Document, take func(*format.Feature) error) error {
	c := csvReader{grid: grid{Reading: r}, end: lineEnd(r.Text.Buf[:r.Text.End])}
	if err := c.header(); err != nil {
		return err
	}
	var f format.Feature
	columns := len(r.Schema.Names)
	c.findGeometry()
	for {
		line, ok, err := c.line()
		if err != nil || !ok {
			return err
		}
		if c.end == '\r' { // of a CRLF in between
			line = bytes.TrimPrefix(line, []byte{'\n'})
		}
		if len(line) == 0 {
			continue
		}
		c.split(r.Charset.Fix(line))
		if c.blank() {
			continue
		}
		f.Row++
		f.Wrong = ""
		if !c.fits(columns) {
			f.Wrong = fmt.Sprintf("the row has %d cells, the header %d", len(c.cells), columns)
		}
		f.Cells = c.cells[:min(columns, len(c.cells))]
		if err := c.readShape(&f); err != nil {
			return err
		}
		if err := take(&f); err != nil {
			return err
		}
	}
}

// csvReader splits the text into rows and cells.
type csvReader struct {
	grid
	separator byte
	end       byte   // of a line
	lines     int    // read so far, for messages
	at        int    // where closed goes on; 0 between rows
	room      []byte // unquoted cells of the row
}

// header reads the first row that is not blank and tells the separator from it.
func (c *csvReader) header() error {
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
		// [C] spreadsheets write the separator into a line of its own, "sep=;".
		if c.separator == 0 && len(text) == 5 && bytes.HasPrefix(text, []byte("sep=")) {
			c.separator = text[4]
			continue
		}
		if c.separator == 0 {
			c.separator = separatorOf(text)
		}
		c.Comma = c.separator != ','
		c.cells = slices.Grow(c.cells, bytes.Count(text, []byte{c.separator})+1)
		c.split(text)
		return c.nameColumns()
	}
}

// separatorOf returns the separator that is most frequent outside quotes.
func separatorOf(line []byte) byte {
	count := map[byte]int{}
	quoted := false
	for _, b := range line {
		if b == '"' {
			quoted = !quoted
		}
		if !quoted {
			count[b]++
		}
	}
	best := byte(',')
	for _, b := range []byte{';', '\t'} {
		if count[b] > count[best] {
			best = b
		}
	}
	return best
}
