package csv

import (
	"bytes"
	"fmt"

	"driftreach/internal/format"
	"driftreach/internal/format/grid"
)

// line returns the next row without its line end. Line ends inside quotes belong to the row. The result
// is valid until the next call.
func (c *reader) line() (text []byte, ok bool, err error) {
	w := c.Text
	searched := 0
	for {
		if i := bytes.IndexByte(w.Buf[w.Pos+searched:w.End], c.end); i >= 0 {
			text = w.Buf[w.Pos : w.Pos+searched+i]
			if bytes.IndexByte(text, '"') < 0 || c.closed(text) {
				w.Pos += searched + i + 1
				c.lines++
				return bytes.TrimSuffix(text, []byte{'\r'}), true, nil
			}
			searched += i + 1
			continue
		}
		searched = w.End - w.Pos
		if searched > c.Limits.RecordBytes {
			return nil, false, c.tooLong()
		}
		if w.More() && w.End-w.Pos > searched {
			continue
		}
		return c.lastLine()
	}
}

// lastLine returns the text after the last line end.
func (c *reader) lastLine() ([]byte, bool, error) {
	w := c.Text
	if err := w.Failed(); err != nil {
		return nil, false, err
	}
	text := w.Buf[w.Pos:w.End]
	if len(text) == 0 {
		return nil, false, nil
	}
	if bytes.IndexByte(text, '"') >= 0 && !c.closed(text) {
		return nil, false, c.unclosed()
	}
	w.Pos = w.End
	c.lines++
	return bytes.TrimSuffix(text, []byte{'\r'}), true, nil
}

func (c *reader) tooLong() error {
	if bytes.IndexByte(c.Text.Buf[c.Text.Pos:c.Text.End], '"') >= 0 {
		return c.unclosed()
	}
	return c.Unusable(fmt.Sprintf("line %d", c.lines+1), "the row is longer than the limit", "check that the file is CSV, or raise limits.record_mb")
}

func (c *reader) unclosed() error {
	return c.Unusable(fmt.Sprintf("line %d", c.lines+1), "a quote is opened and never closed", "close the quote, or double a quote that is meant as itself")
}

// closed says whether every opening quote of a cell is closed. If not, the next call, with more text,
// continues where this one stopped.
func (c *reader) closed(text []byte) bool {
	i, quoted := c.at, c.at > 0
	c.at = 0
	for {
		if opened := opening(text[i:]); quoted || opened > 0 {
			if !quoted {
				i += opened
			}
			if i = afterQuoted(text, i); i < 0 {
				c.at = len(text)
				return false
			}
			quoted = false
		}
		k := bytes.IndexByte(text[i:], c.cut())
		if k < 0 {
			return true
		}
		i += k + 1
	}
}

// opening returns the length of the opening quote at the start of a cell, including blanks before it,
// which people type after a comma. It returns 0 if the cell is not quoted.
func opening(text []byte) int {
	for i, b := range text {
		if b == '"' {
			return i + 1
		}
		if b != ' ' {
			return 0
		}
	}
	return 0
}

// afterQuoted returns the index after the quote that closes the cell at text[i:], or -1 if none does. A
// doubled quote closes nothing.
func afterQuoted(text []byte, i int) int {
	for {
		k := bytes.IndexByte(text[i:], '"')
		if k < 0 {
			return -1
		}
		i += k + 1
		if i >= len(text) || text[i] != '"' {
			return i
		}
		i++
	}
}

// cut returns the separator, or a comma while the header has not been read.
func (c *reader) cut() byte {
	if c.separator == 0 {
		return ','
	}
	return c.separator
}

// split cuts a row into trimmed cells.
func (c *reader) split(text []byte) {
	c.Cells = c.Cells[:0]
	c.room = c.room[:0]
	if cap(c.room) < len(text) {
		c.room = make([]byte, 0, 2*len(text)) // large enough that it is never reallocated below
	}
	for {
		if opened := opening(text); opened > 0 {
			text = c.quoted(text[opened:])
		} else if k := bytes.IndexByte(text, c.separator); k >= 0 {
			c.Cells = append(c.Cells, format.Cell{Text: trim(text[:k])})
			text = text[k+1:]
		} else {
			c.Cells = append(c.Cells, format.Cell{Text: trim(text)})
			return
		}
		if text == nil {
			return
		}
	}
}

// trim removes white space at both ends. Most cells have none, which the first and last byte show.
func trim(text []byte) []byte {
	if n := len(text); n == 0 || isGraphic(text[0]) && isGraphic(text[n-1]) {
		return text
	}
	return bytes.TrimSpace(text)
}

// isGraphic says whether b is a printable ASCII character other than the blank.
func isGraphic(b byte) bool { return b > ' ' && b < 0x80 }

// quoted adds the cell whose opening quote has been read. It returns the text after the cell's
// separator, or nil at the end of the row.
func (c *reader) quoted(text []byte) []byte {
	begin := len(c.room)
	for {
		k := bytes.IndexByte(text, '"')
		if k < 0 { // cannot happen: line returns closed rows only
			k = len(text)
			text = append(text[:k:k], '"')
		}
		c.room = append(c.room, text[:k]...)
		text = text[k+1:]
		if len(text) == 0 || text[0] != '"' {
			break
		}
		c.room = append(c.room, '"')
		text = text[1:]
	}
	k := bytes.IndexByte(text, c.separator)
	rest := text
	if k >= 0 {
		rest = text[:k]
	}
	c.room = append(c.room, rest...)
	c.Cells = append(c.Cells, format.Cell{Text: trim(c.room[begin:])})
	if k < 0 {
		return nil
	}
	return text[k+1:]
}

// reader splits the text into rows and cells.
type reader struct {
	grid.Grid
	separator byte
	end       byte   // last byte of a line end
	lines     int    // lines read so far, for messages
	at        int    // where closed continues; 0 between rows
	room      []byte // the row's cells after unquoting
}
