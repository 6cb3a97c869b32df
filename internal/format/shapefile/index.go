package shapefile

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"

	"driftreach/internal/format"
)

// shapeIndex is the .shx, which says where each record of the .shp begins (ESRI
// Shapefile Technical Description, July 1998, page 23). Programs that change a
// shape leave the old one in its place, out of the index.
type shapeIndex struct {
	file *format.Sidecar
	in   *bufio.Reader

	wrong bool // it does not fit the shapes, and is left
}

// openIndex opens the index, if there is one that can be.
func (s *shapes) openIndex(d *format.Document) error {
	file, err := besides(s.Reading, d, ".shx")
	if file == nil || err != nil {
		return err
	}
	s.index = &shapeIndex{file: file, in: bufio.NewReader(file)}
	// one that is cut off in its head says nothing
	s.index.in.Discard(100)
	return nil
}

// next returns where the next record begins; false at the end of the index.
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

// follow passes over what lies before the record by the index. An index that
// goes back is left where the records count themselves on, and one that ends
// where the table goes on; what lies behind the ends of both is no record.
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
