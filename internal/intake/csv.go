package intake

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// readCSV reads comma-, semicolon- or tab-separated text with RFC 4180
// quoting, one record at a time, and gives each to take. Line ends are CRLF, LF or
// CR; blank lines and rows of blank cells are passed over.
func (r *reading) readCSV(take func(*feature) error) error {
	c := csvReader{reading: r, end: lineEnd(r.text.buf[:r.text.end])}
	if err := c.header(); err != nil {
		return err
	}
	var f feature
	columns := len(r.schema.names)
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
		c.split(r.charset.fix(line))
		if c.blank() {
			continue
		}
		f.row++
		f.wrong = ""
		if !c.fits(columns) {
			f.wrong = fmt.Sprintf("the row has %d cells, the header %d", len(c.cells), columns)
		}
		f.cells = c.cells[:min(columns, len(c.cells))]
		if err := c.shape(&f); err != nil {
			return err
		}
		if err := take(&f); err != nil {
			return err
		}
	}
}

// csvReader splits the text into rows and cells.
type csvReader struct {
	*reading
	separator byte
	srid      int  // that the geometries name; 0 for none
	end       byte // of a line
	lines     int  // read so far, for messages
	at        int  // where closed goes on; 0 between rows
	cells     []cell
	room      []byte // unquoted cells of the row
}

// header reads the first row that is not blank and tells the separator from it.
func (c *csvReader) header() error {
	for range c.skip {
		if _, _, err := c.line(); err != nil {
			return err
		}
	}
	if skip, title := c.titleAbove(); c.skip == 0 && skip > 0 {
		if err := c.titled(skip, title); err != nil {
			return err
		}
		c.skip = skip
		return c.header()
	}
	for {
		line, ok, err := c.line()
		if err != nil {
			return err
		}
		if !ok {
			return c.unusable("", "the file is blank", "check that the right file was named")
		}
		text := c.charset.fix(line)
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
		c.comma = c.separator != ','
		c.cells = slices.Grow(c.cells, bytes.Count(text, []byte{c.separator})+1)
		c.split(text)
		return c.name()
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

// name makes the header's cells the columns.
func (c *csvReader) name() error {
	if len(c.cells) > c.limits.Columns {
		return c.unusable("header", fmt.Sprintf("%d columns are more than the limit of %d", len(c.cells), c.limits.Columns), "remove columns, or raise limits.columns")
	}
	for i, cell := range c.cells {
		name := strings.TrimSpace(string(cell.text))
		if name == "" {
			name = fmt.Sprintf("column %d", i+1)
		}
		if _, taken := c.schema.index[name]; taken {
			c.reportFile(ruleHeaderTwice, name, "", "the header has "+name+" twice; the first is used and the other carried")
			for n := 2; taken; n++ {
				next := fmt.Sprintf("%s~%d", name, n)
				if _, taken = c.schema.index[next]; !taken {
					name = next
				}
			}
		}
		c.schema.add(name)
	}
	return nil
}

// fits says whether the row has the header's cells; blank ones beyond it, as
// spreadsheets leave them, do not count.
func (c *csvReader) fits(columns int) bool {
	if len(c.cells) < columns {
		return false
	}
	for _, cell := range c.cells[columns:] {
		if len(cell.text) > 0 {
			return false
		}
	}
	return true
}

func (c *csvReader) blank() bool {
	for _, cell := range c.cells {
		if len(cell.text) > 0 {
			return false
		}
	}
	return true
}
