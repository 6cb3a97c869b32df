package format

import (
	"bytes"
	"io"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// Decode returns a reader of the text as UTF-8 without a byte-order mark, if its first bytes (head)
// show UTF-8 or UTF-16, and the name of the encoding found.
func Decode(head []byte, r io.Reader) (io.Reader, string) {
	utf16 := func(e unicode.Endianness) io.Reader {
		return transform.NewReader(r, unicode.UTF16(e, unicode.UseBOM).NewDecoder())
	}
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		io.CopyN(io.Discard, r, 3)
		return r, "UTF-8"
	case bytes.HasPrefix(head, []byte("\xff\xfe")):
		return utf16(unicode.LittleEndian), "UTF-16LE"
	case bytes.HasPrefix(head, []byte("\xfe\xff")):
		return utf16(unicode.BigEndian), "UTF-16BE"
	}
	if little, big := zeros(head, 1), zeros(head, 0); len(head) > 3 && little != big {
		if little > len(head)/4 && big == 0 {
			return utf16(unicode.LittleEndian), "UTF-16LE"
		}
		if big > len(head)/4 && little == 0 {
			return utf16(unicode.BigEndian), "UTF-16BE"
		}
	}
	return r, "UTF-8"
}

// zeros counts the zero bytes in every second place, starting at first. Latin text in UTF-16 has one
// there for each character.
func zeros(head []byte, first int) int {
	n := 0
	for i := first; i < len(head); i += 2 {
		if head[i] == 0 {
			n++
		}
	}
	return n
}

// Charset converts text that is not UTF-8. It is taken for Windows-1252, the default of spreadsheets in
// western Europe and the Americas.
type Charset struct {
	Assumed bool // at least one text was not UTF-8
	room    []byte
}

// Fix returns the text as UTF-8. The result is valid until the next call.
func (c *Charset) Fix(text []byte) []byte {
	if utf8.Valid(text) {
		return text
	}
	c.Assumed = true
	c.room = c.room[:0]
	for _, b := range text {
		c.room = utf8.AppendRune(c.room, charmap.Windows1252.DecodeByte(b))
	}
	return c.room
}

// CharsetReader reads a text in the encoding that it declares.
func CharsetReader(label string, in io.Reader) (io.Reader, error) {
	e, err := htmlindex.Get(label)
	if err != nil {
		return nil, err
	}
	return e.NewDecoder().Reader(in), nil
}
