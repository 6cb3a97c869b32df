package intake

import (
	"bufio"
	"bytes"
	"io"
	"io/fs"
)

// document is one file, or one member of an archive, told apart by its
// content.
type document struct {
	head   *bufio.Reader // the whole of it, from its first byte
	nested bool          // it is a member of an archive

	// whole gives the document for reading anywhere. It uses up the head.
	whole func() (io.ReaderAt, int64, error)
	// beside opens the file of the same name with another ending; the error is
	// fs.ErrNotExist when there is none.
	beside func(ending string) (io.ReadCloser, error)
}

// headBytes is how much of a document is looked at to tell its format. Our
// choice: enough to see binary marks and UTF-16 by.
const headBytes = 4096

// readInput reads a source from its first byte.
func (r *reading) readInput(in *input, take func(*feature) error) error {
	d := &document{beside: in.source.Beside}
	if d.beside == nil {
		d.beside = func(string) (io.ReadCloser, error) { return nil, fs.ErrNotExist }
	}
	d.whole = func() (io.ReaderAt, int64, error) {
		at, seeks := in.reader.(io.ReaderAt)
		if seeks {
			// to the end for the sum of the bytes; from now on by place
			_, err := io.Copy(io.Discard, d.head)
			return at, in.bytes, err
		}
		all, err := io.ReadAll(io.LimitReader(d.head, r.limits.MemberBytes+1))
		if err == nil && int64(len(all)) > r.limits.MemberBytes {
			err = r.unusable("", "the file is larger than the limit for files that are held in memory", "split the file, or raise limits.member_mb")
		}
		return bytes.NewReader(all), int64(len(all)), err
	}
	return r.readDocument(d, in, take)
}

// readDocument tells the format and gives every feature to take.
func (r *reading) readDocument(d *document, text io.Reader, take func(*feature) error) error {
	d.head = bufio.NewReaderSize(text, headBytes)
	head, err := d.head.Peek(headBytes)
	if err != nil && err != io.EOF {
		return err
	}
	switch {
	case len(head) < headBytes && len(bytes.TrimSpace(head)) == 0:
		return r.unusable("", "the file is empty", "check that the right file was named")
	case bytes.HasPrefix(head, []byte("PK\x03\x04")), bytes.HasPrefix(head, []byte("PK\x05\x06")):
		return r.readArchive(d, take)
	case bytes.HasPrefix(head, []byte("SQLite format 3\x00")):
		r.format = formatGeoPackage
		return r.readGeoPackage(d, take)
	case bytes.HasPrefix(head, []byte("PAR1")), bytes.HasPrefix(head, []byte("PARE")):
		r.format = formatParquet
		return r.readParquet(d, take)
	case bytes.HasPrefix(head, []byte("\x00\x00\x27\x0a")):
		r.format = formatShapefile
		return r.readShapefile(d, take)
	}
	return r.readText(d.head, head, take)
}
