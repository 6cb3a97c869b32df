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

// Reader reads a document token by token. Entities other than XML's own
// five are refused, so that none is ever expanded.
type Reader struct {
	*format.Reading
	format.Layout
	decoder *xml.Decoder
	budget  int // bytes that one token may still take
	depth   int
	room    []byte
}

// Open begins to read the text of r, in the encoding that it names for itself
// where it is not read as another already.
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

// Root reads to the outermost element.
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

// RootOf returns the name of the text's outermost element, blank for none, and
// leaves the text unread.
func RootOf(r *format.Reading) string {
	if r.Text == nil || r.Text.First() != '<' {
		return ""
	}
	r.Text.Anchor = r.Text.Pos
	root, err := Open(r).Root()
	if r.Text.Anchor < 0 { // it is behind: no document of ours has so much before its root
		return ""
	}
	r.Text.Pos, r.Text.Anchor = r.Text.Anchor, -1
	if err != nil {
		return ""
	}
	return root.Name.Local
}

// Read gives the decoder the text from the window, and ends a token that is too long.
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

// readAhead is what the decoder has of a token before it is asked for it, so that the
// text it keeps is never longer than the limit: it would double its room for that.
const readAhead = 4096

// ErrTooLong is the trouble of an element that passes the limit.
var ErrTooLong = errors.New("an element is longer than limits.record_mb allows")

// Last refuses a document that comes after the one read, so that no features of
// two texts put together are lost. Anything else there is left, as zeros with
// which some devices fill a file up.
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

// next returns the next token; nil at the end of the text.
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

// Broken is the error for a document that ends or goes on where it must not.
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

// Each calls do for every child element of the one whose start was read last,
// and reads to its end. What do leaves unread of a child is passed over.
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

// Content reads the rest of the element whose start was read last and returns its
// own text, good until the next call.
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

// Column puts the text of the element whose start was read last into a column.
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

// Crowded refuses files with more columns, or a record with more text, than
// the limits.
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

// Attribute returns an attribute of an element; blank for none.
func Attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
