package part

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/gob"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"driftreach/internal/aquatic"
	"driftreach/internal/margin"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// A file is a line of JSON, the Head; the contents of the part or result, encoded as gob; and the
// SHA-256 of all that. Only the version of the program that wrote it reads it.

// writer writes one file.
type writer struct {
	gob *gob.Encoder
	err error
}

// write writes a file with a head, followed by what fill writes.
func write(to io.Writer, h Head, fill func(*writer)) error {
	sum := sha256.New()
	both := bufio.NewWriter(io.MultiWriter(to, sum))
	text, err := json.Marshal(h)
	if err != nil {
		return err
	}
	_, err = both.Write(append(text, '\n'))
	w := &writer{gob.NewEncoder(both), err}
	fill(w)
	if w.err = errors.Join(w.err, both.Flush()); w.err != nil {
		return w.err
	}
	_, err = to.Write(sum.Sum(nil))
	return err
}

// one encodes one value.
func (w *writer) one(v any) {
	if w.err == nil {
		w.err = w.gob.Encode(v)
	}
}

// writeAll encodes the elements of a slice.
func writeAll[T any](w *writer, all []T) {
	w.one(len(all))
	for len(all) > 0 {
		n := min(atOnce, len(all))
		w.one(all[:n])
		all = all[n:]
	}
}

// reader reads one file.
type reader struct {
	gob *gob.Decoder
	err error
}

// errDamaged says that a file was cut off or changed.
var errDamaged = errors.New("its bytes are not those that were written: it was cut off or changed")

// read reads a file. It checks the checksum before it uses anything but the head.
func read(from io.ReadSeeker, fill func(*reader)) (Head, error) {
	var h Head
	size, err := from.Seek(0, io.SeekEnd)
	if err != nil {
		return h, err
	}
	if _, err := from.Seek(0, io.SeekStart); err != nil {
		return h, err
	}
	sum := sha256.New()
	if _, err := io.CopyN(sum, from, max(0, size-sha256.Size)); err != nil {
		return h, err
	}
	told := make([]byte, sha256.Size)
	if _, err := io.ReadFull(from, told); err != nil || !bytes.Equal(told, sum.Sum(nil)) {
		return h, errDamaged
	}
	if _, err := from.Seek(0, io.SeekStart); err != nil {
		return h, err
	}
	body := bufio.NewReader(io.LimitReader(from, size-sha256.Size))
	line, err := body.ReadBytes('\n')
	if err == nil {
		err = json.Unmarshal(line, &h)
	}
	if err != nil {
		return h, fmt.Errorf("%w (%w)", errDamaged, err)
	}
	if fill == nil {
		return h, nil
	}
	r := &reader{gob: gob.NewDecoder(body)}
	fill(r)
	return h, r.err
}

// one decodes one value.
func (r *reader) one(into any) {
	if r.err == nil {
		r.err = r.gob.Decode(into)
	}
}

// readAll decodes the elements of a slice.
func readAll[T any](r *reader) []T {
	var n int
	r.one(&n)
	var all []T
	for r.err == nil && len(all) < n {
		var some []T
		r.one(&some)
		all = append(all, some...)
	}
	return all
}

// Block is some records of a part, packed, with their indices in the batch and those of their observers, as
// in Part. Add adds to it.
type Block []byte

// AppendEntry adds to b what a block holds of a record without ids and texts.
func AppendEntry(b []byte, index, by int, r *survey.Record) []byte {
	return r.AppendPacked(binary.AppendUvarint(binary.AppendUvarint(b, uint64(index)), uint64(by)))
}

// Add adds an entry that AppendEntry made.
func (b Block) Add(entry []byte) Block {
	return append(binary.AppendUvarint(b, uint64(len(entry))), entry...)
}

// records adds the records of the block to a part.
func (b Block) records(p *Part) error {
	for len(b) > 0 {
		length, n := binary.Uvarint(b)
		if n <= 0 || length > uint64(len(b)-n) {
			return errDamaged
		}
		entry := b[n : n+int(length)]
		b = b[n+int(length):]
		index, n := binary.Uvarint(entry)
		by, m := binary.Uvarint(entry[max(0, n):])
		if n <= 0 || m <= 0 {
			return errDamaged
		}
		p.At, p.By, p.Records = append(p.At, int32(index)), append(p.By, int32(by)), append(p.Records, survey.Record{})
		if err := p.Records[len(p.Records)-1].Unpack(entry[n+m:]); err != nil {
			return err
		}
	}
	return nil
}

// Blocks calls yield with blocks of the records of a part.
type Blocks func(yield func(Block) error) error

// BlockBytes is how large a block grows before it is handed on. Our choice: so little that 40 of them
// need little memory, and enough to take little time.
const BlockBytes = 16 << 10

// atOnce is how many elements of a slice are encoded together. Our choice: enough to take little time.
const atOnce = 256

// WriteBlocks writes the part with its head, and with these records instead of its own.
func (p *Part) WriteBlocks(to io.Writer, h Head, all Blocks) error {
	return write(to, h, func(w *writer) {
		w.one(p.Rules)
		err := all(func(b Block) error {
			w.one(b)
			return w.err
		})
		if err != nil && w.err == nil {
			w.err = err
		}
		w.one(Block(nil)) // the end
		writeAll(w, p.PieceAt)
		writeAll(w, p.Pieces)
		writeAll(w, p.Bodies)
	})
}

// Write writes the result with its head.
func (r *Result) Write(to io.Writer, h Head) error {
	return write(to, h, func(w *writer) {
		writeAll(w, r.Stands)
		writeAll(w, r.Margins)
		writeAll(w, r.PieceAt)
		writeAll(w, r.Zone)
		writeAll(w, r.Bodies)
	})
}

// ReadHead reads the head of a file and checks that the file is undamaged.
func ReadHead(from io.ReadSeeker) (Head, error) { return read(from, nil) }

// ReadPart reads the input of a part.
func ReadPart(from io.ReadSeeker) (p Part, err error) {
	_, err = read(from, func(r *reader) {
		r.one(&p.Rules)
		for {
			var b Block
			if r.one(&b); len(b) == 0 {
				break
			}
			r.err = b.records(&p)
		}
		p.PieceAt, p.Pieces = readAll[int32](r), readAll[aquatic.Piece](r)
		p.Bodies = readAll[PartBody](r)
	})
	return p, err
}

// ReadResult reads the result of a part.
func ReadResult(from io.ReadSeeker) (out Result, err error) {
	_, err = read(from, func(r *reader) {
		out.Stands, out.Margins = readAll[stand.Stand](r), readAll[margin.Stand](r)
		out.PieceAt, out.Zone, out.Bodies = readAll[int32](r), readAll[Drawn](r), readAll[Body](r)
	})
	return out, err
}
