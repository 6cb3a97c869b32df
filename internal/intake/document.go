package intake

import (
	"bufio"
	"bytes"
	"io"
)

// document is one file, or one member of an archive, told apart by its
// content.
type document struct {
	head   *bufio.Reader // the whole of it, from its first byte
	first  []byte        // the first bytes, also when they were read
	nested bool          // it is a member of an archive

	// whole gives the document for reading anywhere. It uses up the head.
	whole func() (io.ReaderAt, int64, error)
	got   *wholeDocument // what whole gave
	// beside opens the file of the same name with another ending; the error is
	// fs.ErrNotExist when there is none.
	beside func(ending string) (io.ReadCloser, error)
	// inside reads a document within this one, in whatever format it is.
	inside func(d *document, text io.Reader, take func(*feature) error) error
}

// wholeDocument is a document that can be read anywhere.
type wholeDocument struct {
	at   io.ReaderAt
	size int64
	err  error
}

// headBytes is how much of a document is looked at to tell its format. Our
// choice: enough to see binary marks and UTF-16 by.
const headBytes = 4096

// open takes the text and looks at its first bytes.
func (d *document) open(text io.Reader) error {
	d.head = bufio.NewReaderSize(text, headBytes)
	head, err := d.head.Peek(headBytes)
	if err == io.EOF {
		err = nil
	}
	d.first = bytes.Clone(head)
	return err
}

// begins says whether the document begins with a mark.
func (d *document) begins(mark string) bool { return bytes.HasPrefix(d.first, []byte(mark)) }

// all gives the document for reading anywhere, and its size. It uses up the head.
func (d *document) all() (io.ReaderAt, int64, error) {
	if d.got == nil {
		at, size, err := d.whole()
		d.got = &wholeDocument{at, size, err}
	}
	return d.got.at, d.got.size, d.got.err
}
