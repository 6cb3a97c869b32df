package parquet

import (
	"encoding/binary"
	"fmt"
)

// value is one value of a column: the bits of a number, or bytes.
type value struct {
	bits  uint64
	bytes []byte
}

// values returns the values of a page one by one, and false when there are no more or the data is
// invalid. Bytes are valid until the next call.
type values interface {
	next() (value, bool)
}

// The encodings of values (Apache Parquet format, Encodings.md).
const (
	encodingPlain           = 0
	encodingPlainDictionary = 2
	encodingRuns            = 3
	encodingDelta           = 5
	encodingDeltaLength     = 6
	encodingDeltaBytes      = 7
	encodingDictionary      = 8
	encodingSplit           = 9
)

// valuesOf prepares to read the values of a page.
func (l *leaf) valuesOf(encoding int64, page []byte, dictionary []value) (values, error) {
	numbers := l.physical == parquetInt32 || l.physical == parquetInt64
	strings := l.physical == parquetBytes
	switch {
	case encoding == encodingPlain:
		return &plainValues{bytes: page, physical: l.physical, length: int(l.length)}, nil
	case encoding == encodingDictionary, encoding == encodingPlainDictionary:
		return newChosen(page, dictionary)
	case encoding == encodingRuns && l.physical == parquetBoolean && len(page) >= 4:
		return &truths{runs{bytes: page[4:], width: 1}}, nil
	case encoding == encodingDelta && numbers:
		return newDeltas(page)
	case encoding == encodingDeltaLength && strings:
		return newDeltaTexts(page)
	case encoding == encodingDeltaBytes && (strings || l.physical == parquetFixed):
		return newDeltaSuffixes(page)
	case encoding == encodingSplit && !strings && l.physical != parquetBoolean && l.physical != parquetInt96:
		return newSplit(page, l), nil
	}
	return nil, fmt.Errorf("its values are encoded in way %d, which is not read for values of type %d", encoding, l.physical)
}

// plainValues are values stored one after the other.
type plainValues struct {
	bytes    []byte
	physical int64
	length   int
	bit      int
}

func (p *plainValues) next() (value, bool) {
	switch p.physical {
	case parquetBoolean:
		if p.bit >= 8*len(p.bytes) {
			return value{}, false
		}
		p.bit++
		return value{bits: uint64(p.bytes[(p.bit-1)/8] >> ((p.bit - 1) % 8) & 1)}, true
	case parquetBytes:
		if len(p.bytes) < 4 {
			return value{}, false
		}
		n := binary.LittleEndian.Uint32(p.bytes)
		p.bytes = p.bytes[4:]
		return p.take(uint64(n))
	case parquetFixed:
		return p.take(uint64(p.length))
	case parquetInt96:
		return p.take(12)
	}
	v, ok := p.take(uint64(widthOf(p.physical)))
	return value{bits: littleEndian(v.bytes)}, ok
}

func (p *plainValues) take(n uint64) (value, bool) {
	if n > uint64(len(p.bytes)) {
		return value{}, false
	}
	v := p.bytes[:n:n]
	p.bytes = p.bytes[n:]
	return value{bytes: v}, true
}

// widthOf is the number of bytes of a number.
func widthOf(physical int64) int {
	if physical == parquetInt64 || physical == parquetDouble {
		return 8
	}
	return 4
}

func littleEndian(b []byte) uint64 {
	v := uint64(0)
	for i, x := range b {
		v |= uint64(x) << (8 * i)
	}
	return v
}

// chosen are values stored as dictionary indices.
type chosen struct {
	runs
	dictionary []value
}

func newChosen(page []byte, dictionary []value) (*chosen, error) {
	if len(page) == 0 {
		return &chosen{}, nil
	}
	if page[0] > 32 {
		return nil, fmt.Errorf("places in its dictionary are of %d bits", page[0])
	}
	return &chosen{runs{bytes: page[1:], width: uint(page[0])}, dictionary}, nil
}

func (c *chosen) next() (value, bool) {
	i, ok := c.runs.next()
	if !ok || uint64(i) >= uint64(len(c.dictionary)) {
		return value{}, false
	}
	return c.dictionary[i], true
}

// truths are booleans stored in runs.
type truths struct{ runs }

func (t *truths) next() (value, bool) {
	v, ok := t.runs.next()
	return value{bits: uint64(v)}, ok
}

// split are numbers stored byte by byte: the first bytes of all numbers, then all second bytes, and so
// on.
type split struct {
	bytes    []byte
	width    int
	at       int
	fixed    bool
	assemble []byte
}

func newSplit(page []byte, l *leaf) *split {
	s := &split{bytes: page, width: widthOf(l.physical), fixed: l.physical == parquetFixed}
	if s.fixed {
		s.width = int(l.length)
	}
	return s
}

func (s *split) next() (value, bool) {
	n := len(s.bytes) / s.width
	if s.at >= n {
		return value{}, false
	}
	s.assemble = s.assemble[:0]
	for k := range s.width {
		s.assemble = append(s.assemble, s.bytes[k*n+s.at])
	}
	s.at++
	if s.fixed {
		return value{bytes: s.assemble}, true
	}
	return value{bits: littleEndian(s.assemble)}, true
}
