package geojson

import (
	"bytes"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// string reads a string and appends its text to into.
func (j *reader) string(into []byte) []byte {
	if !j.take('"') {
		return into
	}
	w := j.Reading.Text
	begin := len(into)
	for {
		rest := w.Buf[w.Pos:w.End]
		k := bytes.IndexByte(rest, '"')
		run := rest
		if k >= 0 {
			run = rest[:k]
		}
		if e := bytes.IndexByte(run, '\\'); e >= 0 {
			into = append(into, run[:e]...)
			w.Pos += e
			if into = j.escape(into); j.wrong != "" {
				return into
			}
			continue
		}
		into = append(into, run...)
		w.Pos += len(run)
		if k >= 0 {
			w.Pos++
			break
		}
		if len(into)-begin > j.Limits.RecordBytes {
			j.fail("a text is longer than limits.record_mb allows")
			return into
		}
		if !w.More() {
			j.fail("the text ends inside a string")
			return into
		}
	}
	if fixed := j.Charset.Fix(into[begin:]); len(fixed) != len(into)-begin {
		into = append(into[:begin], fixed...)
	}
	return into
}

// escape reads an escape sequence. After the backslash, a character that JSON does not define is kept
// as it is.
func (j *reader) escape(into []byte) []byte {
	w := j.Reading.Text
	for w.End-w.Pos < 12 && w.More() { // enough bytes for two \u units
	}
	if w.End-w.Pos < 2 {
		j.fail("the text ends inside a string")
		return into
	}
	b := w.Buf[w.Pos+1]
	w.Pos += 2
	switch b {
	case 'n':
		return append(into, '\n')
	case 't':
		return append(into, '\t')
	case 'r':
		return append(into, '\r')
	case 'b':
		return append(into, '\b')
	case 'f':
		return append(into, '\f')
	case 'u':
		return utf8.AppendRune(into, j.unit())
	}
	return append(into, b)
}

// unit reads the four digits after \u, and a second unit if the first is half of a surrogate pair.
func (j *reader) unit() rune {
	w := j.Reading.Text
	first, ok := fourHex(w.Buf[w.Pos:w.End])
	if !ok {
		return utf8.RuneError
	}
	w.Pos += 4
	if !utf16.IsSurrogate(first) {
		return first
	}
	if rest := w.Buf[w.Pos:w.End]; len(rest) >= 6 && rest[0] == '\\' && rest[1] == 'u' {
		if second, ok := fourHex(rest[2:]); ok {
			if both := utf16.DecodeRune(first, second); both != utf8.RuneError {
				w.Pos += 6
				return both
			}
		}
	}
	return utf8.RuneError
}

func fourHex(b []byte) (rune, bool) {
	if len(b) < 4 {
		return 0, false
	}
	v, err := strconv.ParseUint(string(b[:4]), 16, 16)
	return rune(v), err == nil
}
