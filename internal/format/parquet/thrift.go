package parquet

import (
	"encoding/binary"
	"fmt"
)

// thrift reads the compact protocol of Thrift, in which Parquet writes what it
// says about itself (Thrift, doc/specs/thrift-compact-protocol.md). Nothing is
// had in advance of what the bytes hold, so that no count can claim more than
// they do; after the first fault every answer is blank.
type thrift struct {
	bytes []byte
	at    int
	depth int
	wrong string
}

// The kinds of a value.
const (
	thriftTrue   = 1
	thriftFalse  = 2
	thriftByte   = 3
	thriftLong   = 6
	thriftDouble = 7
	thriftBinary = 8
	thriftList   = 9
	thriftSet    = 10
	thriftMap    = 11
	thriftStruct = 12
)

// deepestThrift bounds structures within structures. Our choice: Parquet's own
// lie six deep.
const deepestThrift = 32

// thriftShort is the fault of bytes that end early.
const thriftShort = "it ends early"

func (t *thrift) fail(found string) {
	if t.wrong == "" {
		t.wrong = found
	}
}

func (t *thrift) byte() byte {
	b := t.take(1)
	if b == nil {
		return 0
	}
	return b[0]
}

// take returns the next n bytes; nil when there are no more.
func (t *thrift) take(n uint64) []byte {
	if t.wrong != "" || n > uint64(len(t.bytes)-t.at) {
		t.fail(thriftShort)
		return nil
	}
	t.at += int(n)
	return t.bytes[t.at-int(n) : t.at]
}

// count reads a number without a sign.
func (t *thrift) count() uint64 {
	v, n := binary.Uvarint(t.bytes[t.at:])
	switch {
	case t.wrong != "":
		return 0
	case n == 0:
		t.fail(thriftShort)
		return 0
	case n < 0:
		t.fail("a number is too long")
		return 0
	}
	t.at += n
	return v
}

// number reads a number with a sign.
func (t *thrift) number() int64 {
	v := t.count()
	return int64(v>>1) ^ -int64(v&1)
}

// fields gives each field of a structure to do, which must read its value.
func (t *thrift) fields(do func(id int64, kind byte)) {
	if t.depth++; t.depth > deepestThrift {
		t.fail("it is nested too deep")
	}
	id := int64(0)
	for t.wrong == "" {
		b := t.byte()
		if b == 0 {
			break
		}
		if step := int64(b >> 4); step != 0 {
			id += step
		} else {
			id = t.number()
		}
		do(id, b&15)
	}
	t.depth--
}

// structure gives the fields of a value that should be a structure.
func (t *thrift) structure(kind byte, do func(id int64, kind byte)) {
	if kind != thriftStruct {
		t.skip(kind)
		return
	}
	t.fields(do)
}

// list gives each element of a value that should be a list to do, which must
// read it.
func (t *thrift) list(kind byte, do func(kind byte)) {
	if kind != thriftList && kind != thriftSet {
		t.skip(kind)
		return
	}
	b := t.byte()
	n := uint64(b >> 4)
	if n == 15 {
		n = t.count()
	}
	for range n {
		if t.wrong != "" {
			return
		}
		before := t.at
		if do(b & 15); t.at == before && t.wrong == "" {
			t.fail(fmt.Sprintf("a list has elements of kind %d", b&15))
		}
	}
}

// integer reads a value that should be a whole number.
func (t *thrift) integer(kind byte) int64 {
	switch {
	case kind == thriftByte:
		return int64(int8(t.byte()))
	case kind > thriftByte && kind <= thriftLong:
		return t.number()
	}
	t.skip(kind)
	return 0
}

// text reads a value that should be a text.
func (t *thrift) text(kind byte) []byte {
	if kind != thriftBinary {
		t.skip(kind)
		return nil
	}
	return t.take(t.count())
}

// skip reads over a value.
func (t *thrift) skip(kind byte) {
	switch kind {
	case thriftTrue, thriftFalse: // the kind is the value
	case thriftDouble:
		t.take(8)
	case thriftBinary:
		t.take(t.count())
	case thriftList, thriftSet:
		t.list(thriftList, t.element)
	case thriftMap:
		t.skipMap()
	case thriftStruct:
		t.fields(func(_ int64, kind byte) { t.skip(kind) })
	default:
		if kind < thriftByte || kind > thriftLong {
			t.fail(fmt.Sprintf("a value is of kind %d", kind))
			return
		}
		t.integer(kind)
	}
}

// element reads over an element of a list, where a truth has a byte of its own.
func (t *thrift) element(kind byte) {
	if kind == thriftTrue || kind == thriftFalse {
		t.byte()
		return
	}
	if t.depth++; t.depth > deepestThrift {
		t.fail("it is nested too deep")
		return
	}
	t.skip(kind)
	t.depth--
}

func (t *thrift) skipMap() {
	n := t.count()
	if n == 0 {
		return
	}
	kinds := t.byte()
	for range n {
		if t.wrong != "" {
			return
		}
		t.element(kinds >> 4)
		t.element(kinds & 15)
	}
}
