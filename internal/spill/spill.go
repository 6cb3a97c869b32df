// Package spill keeps on disk what is too much for memory: entries that come back sorted (Sorter) or in
// the order in which they were added (Spool), and texts that are asked for now and then (Shelf). What fits
// in a little memory stays there, but for texts.
package spill

import (
	"bufio"
	"cmp"
	"encoding/binary"
	"errors"
	"io"

	"driftreach/internal/disk"
)

// Place is where the files are. They are removed with it.
type Place interface {
	Create(name string) (disk.File, error)
	Open(name string) (disk.File, error)
}

// pageBytes is the size of a read or write buffer. Our choice: long runs on disk, and little memory
// when many runs are merged.
const pageBytes = 32 << 10

// errCutOff says that a file ends within an entry.
var errCutOff = errors.New("a temporary file is shorter than it was written")

// cutOff returns the error of a file that ends too early, or any other as it is.
func cutOff(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return errCutOff
	}
	return err
}

// output writes entries to one file.
type output struct {
	file  disk.File
	to    *bufio.Writer
	bytes int64
}

func create(at Place, name string) (*output, error) {
	file, err := at.Create(name)
	if err != nil {
		return nil, err
	}
	return &output{file: file, to: bufio.NewWriterSize(file, pageBytes)}, nil
}

// entry writes one entry: the lengths of key and value, and both.
func (o *output) entry(key, value []byte) error {
	var head [2 * binary.MaxVarintLen64]byte
	n := binary.PutUvarint(head[:], uint64(len(key)))
	n += binary.PutUvarint(head[n:], uint64(len(value)))
	for _, part := range [][]byte{head[:n], key, value} {
		if _, err := o.to.Write(part); err != nil {
			return err
		}
		o.bytes += int64(len(part))
	}
	return nil
}

// close closes the file; later calls do nothing.
func (o *output) close() error {
	if o == nil || o.file == nil {
		return nil
	}
	err := errors.Join(o.to.Flush(), o.file.Close())
	o.file = nil
	return err
}

// input reads entries. Key and value are valid until the next call.
type input struct {
	from       *bufio.Reader
	key, value []byte
	room       []byte
	left       int64 // bytes to come
}

// newInput reads the bytes of a file in a range.
func newInput(file io.ReaderAt, from, to int64) *input {
	return &input{from: bufio.NewReaderSize(io.NewSectionReader(file, from, to-from), pageBytes), left: to - from}
}

// next reads an entry; false at the end.
func (in *input) next() (bool, error) {
	if in.left == 0 {
		return false, nil
	}
	k, err := binary.ReadUvarint(in.from)
	v, failed := binary.ReadUvarint(in.from)
	if err := cmp.Or(err, failed); err != nil {
		return false, cutOff(err)
	}
	n := int(k + v)
	if cap(in.room) < n {
		in.room = make([]byte, n)
	}
	in.room = in.room[:n]
	if _, err := io.ReadFull(in.from, in.room); err != nil {
		return false, cutOff(err)
	}
	in.left -= int64(varintLen(k) + varintLen(v) + n)
	in.key, in.value = in.room[:k:k], in.room[k:]
	return true, nil
}

// varintLen returns the number of bytes that a number takes.
func varintLen(v uint64) int {
	var room [binary.MaxVarintLen64]byte
	return binary.PutUvarint(room[:], v)
}
