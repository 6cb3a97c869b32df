// Package xmldoc reads XML documents element by element, within limits.
package xmldoc

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"driftreach/internal/format"
)

// Reader reads a document token by token. It refuses all entities but XML's own five, so none is ever
// expanded.
type Reader struct {
	*format.Reading
	format.Layout
	decoder *xml.Decoder
	budget  int // bytes that the current token may still take
	depth   int
	room    []byte
}

// Open begins to read the text of r, in the encoding that the document declares unless another is
// already in use.
func Open(r *format.Reading) *Reader {
	x := &Reader{Reading: r}
	x.decoder = xml.NewDecoder(x)
	x.decoder.CharsetReader = func(label string, in io.Reader) (io.Reader, error) {
		if r.Encoding != "UTF-8" {
			return in, nil
		}
		return format.CharsetReader(label, in)
	}
	return x
}

// Root reads up to the outermost element.
func (x *Reader) Root() (xml.StartElement, error) {
	for {
		token, err := x.next()
		if err != nil {
			return xml.StartElement{}, err
		}
		if root, ok := token.(xml.StartElement); ok {
			return root, nil
		}
		if token == nil {
			return xml.StartElement{}, x.Unusable("", "the file is XML without an element", "check that the right file was named")
		}
	}
}

// RootOf returns the name of the text's outermost element, blank for none, without consuming the text.
func RootOf(r *format.Reading) string {
	if r.Text == nil || r.Text.First() != '<' {
		return ""
	}
	r.Text.Anchor = r.Text.Pos
	root, err := Open(r).Root()
	if r.Text.Anchor < 0 { // the buffer no longer holds the start: no format of ours has that much before its root
		return ""
	}
	r.Text.Pos, r.Text.Anchor = r.Text.Anchor, -1
	if err != nil {
		return ""
	}
	return root.Name.Local
}

// Read passes text from the window to the decoder, and stops a token that is too long.
func (x *Reader) Read(b []byte) (int, error) {
	w := x.Reading.Text
	if w.Pos == w.End && !w.More() {
		if err := w.Failed(); err != nil {
			return 0, err
		}
		return 0, io.EOF
	}
	n := copy(b, w.Buf[w.Pos:w.End])
	w.Pos += n
	if x.budget -= n; x.budget < 0 {
		return 0, ErrTooLong
	}
	return n, nil
}

// readAhead is how much of the next token the decoder may have buffered already. The limit for a token
// is lowered by it: the decoder's buffer then never passes the limit, where it would double.
const readAhead = 4096

// ErrTooLong is the error for an element that exceeds the limit.
var ErrTooLong = errors.New("an element is longer than limits.record_mb allows")

// Last refuses a second document in the same file, so that no features are lost when two texts are put
// together. Anything else after the document is ignored, such as the zeros some devices pad a file
// with.
func (x *Reader) Last(err error) error {
	for err == nil {
		token, ended := x.next()
		if token == nil || ended != nil {
			return nil
		}
		if _, more := token.(xml.StartElement); more {
			return x.Broken(errors.New("another document comes after the first"))
		}
	}
	return err
}

// next returns the next token, or nil at the end of the text.
func (x *Reader) next() (xml.Token, error) {
	x.budget = max(x.Limits.RecordBytes-readAhead, format.Chunk)
	token, err := x.decoder.Token()
	switch {
	case err == io.EOF:
		return nil, nil
	case err != nil:
		return nil, x.Broken(err)
	}
	switch t := token.(type) {
	case xml.StartElement:
		if x.depth++; x.depth > x.Limits.Nesting {
			return nil, x.Broken(errors.New("elements are nested deeper than limits.nesting allows"))
		}
	case xml.EndElement:
		x.depth--
	case xml.Directive:
		if strings.Contains(strings.ToUpper(string(t)), "<!ENTITY") {
			return nil, x.Broken(errors.New("the text defines entities, which are not expanded here"))
		}
	}
	return token, nil
}

// Broken returns the error for a document that is not well-formed.
func (x *Reader) Broken(err error) error {
	if failed := x.Reading.Text.Failed(); failed != nil {
		return failed
	}
	place := fmt.Sprintf("byte %d", x.decoder.InputOffset())
	if x.Feature.Row > 0 {
		place += fmt.Sprintf(", after feature %d", x.Feature.Row)
	}
	return x.Unusable(place, format.ShortenTo(strings.TrimPrefix(err.Error(), "XML syntax error on "), 200), "repair the file at that place, or write it again")
}

// Each calls do for every child element of the current element and reads to its end. Whatever do leaves
// unread of a child is skipped.
func (x *Reader) Each(do func(child xml.StartElement) error) error {
	level := x.depth
	for {
		token, err := x.next()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case nil:
			return x.Broken(errors.New("the text ends inside an element"))
		case xml.StartElement:
			if err := do(t); err != nil {
				return err
			}
			for x.depth > level {
				if token, err := x.next(); err != nil || token == nil {
					return errors.Join(err, x.endless(token))
				}
			}
		case xml.EndElement:
			if x.depth < level {
				return nil
			}
		}
	}
}

func (x *Reader) endless(token xml.Token) error {
	if token != nil {
		return nil
	}
	return x.Broken(errors.New("the text ends inside an element"))
}

// Every calls do for each element of the document as it begins.
func (x *Reader) Every(do func(e xml.StartElement) error) error {
	for {
		token, err := x.next()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case nil:
			if x.depth > 0 || x.decoder.InputOffset() == 0 {
				return x.endless(nil)
			}
			return x.Reading.Text.Failed()
		case xml.StartElement:
			if err := do(t); err != nil {
				return err
			}
		}
	}
}

// Content reads the rest of the current element and returns its own text, valid until the next call.
func (x *Reader) Content() ([]byte, error) {
	x.room = x.room[:0]
	level := x.depth
	for {
		token, err := x.next()
		if err != nil {
			return nil, err
		}
		switch t := token.(type) {
		case nil:
			return nil, x.endless(nil)
		case xml.CharData:
			if x.depth == level {
				x.room = append(x.room, t...)
			}
			if len(x.room) > x.Limits.RecordBytes {
				return nil, x.Broken(ErrTooLong)
			}
		case xml.EndElement:
			if x.depth < level {
				return x.room, nil
			}
		}
	}
}

// Column puts the text of the current element into a column.
func (x *Reader) Column(name string) error {
	text, err := x.Content()
	if err != nil {
		return err
	}
	x.Put(x.ColumnOf(name), text)
	return x.Crowded()
}

// ColumnOf returns the column of that name.
func (x *Reader) ColumnOf(name string) int { return x.Schema.Find([]byte(name)) }

// Crowded refuses files with more columns, or a record with more text, than the limits allow.
func (x *Reader) Crowded() error {
	switch {
	case len(x.Schema.Names) > x.Limits.Columns:
		return x.Broken(fmt.Errorf("there are more than %d different columns", x.Limits.Columns))
	case len(x.Layout.Text) > x.Limits.RecordBytes:
		return x.Broken(errors.New("the texts of a feature are longer than limits.record_mb allows"))
	case len(x.Feature.Shape.Points) > x.Limits.Vertices:
		return x.Broken(errors.New("a feature has more vertices than limits.vertices allows"))
	}
	return nil
}

// Attribute returns an attribute of an element, or blank.
func Attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
