package csv

import (
	"bytes"

	"driftreach/internal/format/grid"
)

// titleAbove returns how many title lines are above the header, and the first of them; 0 for none. A
// title has at most half as many filled cells as the header and the row below it, and none of its cells
// is the name of one of our columns.
func (c *reader) titleAbove() (skip int, title string) {
	rest := c.Text.Buf[c.Text.Pos:c.Text.End]
	first := 0
	var lines [][]byte
	for range grid.MostTitle + 1 {
		k := bytes.IndexByte(rest, c.end)
		if k < 0 {
			lines = append(lines, bytes.TrimSpace(rest)) // cut off by the buffer, or the last line
			break
		}
		lines = append(lines, bytes.TrimSpace(c.Charset.Fix(rest[:k])))
		rest = rest[k+1:]
	}
	for first < len(lines) && len(lines[first]) == 0 {
		first++
	}
	if first+2 >= len(lines) || bytes.HasPrefix(lines[first], []byte("sep=")) || c.named(lines[first]) {
		return 0, ""
	}
	counts := make([]int, 0, len(lines))
	for _, line := range lines[first:] {
		counts = append(counts, filledCells(line))
	}
	if k := grid.HeaderBelow(counts); k > 0 {
		return first + k, string(bytes.Trim(lines[first], ",;\t"))
	}
	return 0, ""
}

// named says whether a cell of the line is the name of one of our columns.
func (c *reader) named(line []byte) bool {
	for _, cell := range bytes.FieldsFunc(line, func(r rune) bool { return r == ',' || r == ';' || r == '\t' }) {
		if c.Bound(string(bytes.Trim(cell, `" `))) {
			return true
		}
	}
	return false
}

// filledCells counts the non-blank cells of a line.
func filledCells(line []byte) int {
	separator := separatorOf(line)
	n, filled, quoted := 0, false, false
	for _, b := range line {
		switch {
		case b == '"':
			quoted = !quoted
		case b == separator && !quoted:
			if filled {
				n++
			}
			filled = false
			continue
		}
		filled = filled || b != ' ' && b != '"'
	}
	if filled {
		n++
	}
	return n
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
