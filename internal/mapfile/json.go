package mapfile

import (
	"unicode/utf8"

	"driftreach/internal/result"
)

const hexDigits = "0123456789abcdef"

// appendString appends s as a JSON string (RFC 8259, section 7). Bytes that
// are not UTF-8 become the replacement character.
func appendString(b []byte, s string) []byte {
	b = append(b, '"')
	start := 0
	for i := 0; i < len(s); {
		c := s[i]
		if c >= ' ' && c != '"' && c != '\\' && c < utf8.RuneSelf {
			i++
			continue
		}
		if c < utf8.RuneSelf {
			b = append(b, s[start:i]...)
			b = appendEscape(b, c)
			i++
			start = i
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && size == 1 {
			b = append(b, s[start:i]...)
			b = append(b, "\uFFFD"...)
			start = i + 1
		}
		i += size
	}
	b = append(b, s[start:]...)
	return append(b, '"')
}

func appendEscape(b []byte, c byte) []byte {
	switch c {
	case '"', '\\':
		return append(b, '\\', c)
	case '\n':
		return append(b, '\\', 'n')
	case '\r':
		return append(b, '\\', 'r')
	case '\t':
		return append(b, '\\', 't')
	}
	return append(b, '\\', 'u', '0', '0', hexDigits[c>>4], hexDigits[c&15])
}

// appendValue appends v as JSON: Null as null, lists as arrays.
func appendValue(b []byte, v result.Value) []byte {
	switch v.Kind {
	case result.Null:
		return append(b, "null"...)
	case result.Text, result.Date:
		return appendString(b, v.Text)
	case result.List:
		return appendStrings(b, v.List)
	}
	return v.Append(b)
}

func appendStrings(b []byte, items []string) []byte {
	b = append(b, '[')
	for i, item := range items {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendString(b, item)
	}
	return append(b, ']')
}
