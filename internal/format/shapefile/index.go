package shapefile

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"

	"driftreach/internal/format"
)

// shapeIndex is the .shx, which gives the byte offset of each record in the .shp (ESRI Shapefile
// Technical Description, July 1998, page 23). Programs that edit a shape may leave its old version in
// the .shp; the .shx no longer points to it.
type shapeIndex struct {
	file *format.Sidecar
	in   *bufio.Reader

	wrong bool // the index does not match the .shp and is ignored
}

// openIndex opens the .shx, if there is one.
func (s *shapes) openIndex(d *format.Document) error {
	file, err := besides(s.Reading, d, ".shx")
	if file == nil || err != nil {
		return err
	}
	s.index = &shapeIndex{file: file, in: bufio.NewReader(file)}
	// an index that is cut off within its header has no entries
	s.index.in.Discard(100)
	return nil
}

// next returns the byte offset of the next record, and false at the end of the index.
func (x *shapeIndex) next() (at int64, ok bool) {
	var b [8]byte
	if _, err := io.ReadFull(x.in, b[:]); err != nil {
		return 0, false
	}
	return 2 * int64(binary.BigEndian.Uint32(b[:])), true
}

func (x *shapeIndex) finish(r *format.Reading) {
	if x != nil {
		x.in.WriteTo(io.Discard)
		x.file.Finish(r)
	}
}

func (x *shapeIndex) close() {
	if x != nil {
		x.file.Close()
	}
}

// follow skips bytes of the .shp that no index entry points to. If an offset goes backwards, the index
// is ignored as long as the record number in the .shp is the expected one; otherwise the file is
// refused. If the index ends before the table does, it is ignored too. If both have ended, the .shp has
// no more records.
func (s *shapes) follow(record int, untabled bool) (ended bool, err error) {
	if s.index == nil || s.index.wrong {
		return false, nil
	}
	at, ok := s.index.next()
	switch {
	case !ok:
		s.index.wrong = !untabled
		return untabled, nil
	case at < s.at:
		s.index.wrong = true
		number, _ := s.in.Peek(4)
		if len(number) == 4 && int64(binary.BigEndian.Uint32(number)) == int64(record) {
			return false, nil
		}
		return false, s.Unusable(fmt.Sprintf("record %d", record), "the .shx has the records in another order than the .shp, or belongs to another", "save the layer again, or copy its files again, together")
	}
	skipped, err := io.CopyN(io.Discard, s.in, at-s.at)
	s.at += skipped
	s.left -= skipped
	if err != nil {
		return false, s.cutShort(record, err)
	}
	return false, nil
}
