package format

import (
	"bufio"
	"bytes"
	"io"
)

// Document is one file, or one member of an archive. Its format is found from its content.
type Document struct {
	Head   *bufio.Reader // all of it, from the first byte
	First  []byte        // the first bytes, even when they have been read
	Nested bool          // it is a member of an archive

	// Whole gives random access to the document, and its size. It consumes Head.
	Whole func() (io.ReaderAt, int64, error)
	got   *wholeDocument // the result of Whole
	// Beside opens the file of the same name with another ending. The error is fs.ErrNotExist when
	// there is none.
	Beside func(ending string) (io.ReadCloser, error)
	// Inside reads a document within this one, in any of the formats.
	Inside func(d *Document, text io.Reader, take func(*Feature) error) error
}

// wholeDocument is a document with random access.
type wholeDocument struct {
	at   io.ReaderAt
	size int64
	err  error
}

// HeadBytes is how much of a document is looked at to find its format. Our choice: enough to recognise
// binary signatures and UTF-16.
const HeadBytes = 4096

// Open sets the text and looks at its first bytes.
func (d *Document) Open(text io.Reader) error {
	d.Head = bufio.NewReaderSize(text, HeadBytes)
	head, err := d.Head.Peek(HeadBytes)
	if err == io.EOF {
		err = nil
	}
	d.First = bytes.Clone(head)
	return err
}

// Begins says whether the document begins with the signature mark.
func (d *Document) Begins(mark string) bool { return bytes.HasPrefix(d.First, []byte(mark)) }

// All gives random access to the document, and its size. It consumes Head.
func (d *Document) All() (io.ReaderAt, int64, error) {
	if d.got == nil {
		at, size, err := d.Whole()
		d.got = &wholeDocument{at, size, err}
	}
	return d.got.at, d.got.size, d.got.err
}
