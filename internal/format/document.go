package format

import (
	"bufio"
	"bytes"
	"io"
)

// Document is one file, or one member of an archive, told apart by its
// content.
type Document struct {
	Head   *bufio.Reader // the whole of it, from its first byte
	First  []byte        // the first bytes, also when they were read
	Nested bool          // it is a member of an archive

	// whole gives the document for reading anywhere. It uses up the head.
	Whole func() (io.ReaderAt, int64, error)
	got   *wholeDocument // what whole gave
	// beside opens the file of the same name with another ending; the error is
	// fs.ErrNotExist when there is none.
	Beside func(ending string) (io.ReadCloser, error)
	// inside reads a document within this one, in whatever format it is.
	Inside func(d *Document, text io.Reader, take func(*Feature) error) error
}

// wholeDocument is a document that can be read anywhere.
type wholeDocument struct {
	at   io.ReaderAt
	size int64
	err  error
}

// HeadBytes is how much of a document is looked at to tell its format. Our
// choice: enough to see binary marks and UTF-16 by.
const HeadBytes = 4096

// Open takes the text and looks at its first bytes.
func (d *Document) Open(text io.Reader) error {
	d.Head = bufio.NewReaderSize(text, HeadBytes)
	head, err := d.Head.Peek(HeadBytes)
	if err == io.EOF {
		err = nil
	}
	d.First = bytes.Clone(head)
	return err
}

// Begins says whether the document begins with a mark.
func (d *Document) Begins(mark string) bool { return bytes.HasPrefix(d.First, []byte(mark)) }

// All gives the document for reading anywhere, and its size. It uses up the head.
func (d *Document) All() (io.ReaderAt, int64, error) {
	if d.got == nil {
		at, size, err := d.Whole()
		d.got = &wholeDocument{at, size, err}
	}
	return d.got.at, d.got.size, d.got.err
}
