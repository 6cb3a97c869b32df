package parquet

import (
	"encoding/binary"
	"fmt"
)

// thrift reads Thrift's compact protocol, in which Parquet writes its metadata (Thrift,
// doc/specs/thrift-compact-protocol.md). It allocates nothing before the bytes are there, so a count in
// the file cannot claim more memory than the file has bytes. After the first error every method returns
// a zero value.
type thrift struct {
	bytes []byte
	at    int
	depth int
	wrong string
}

// The types of a value.
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

// deepestThrift is the deepest nesting of structures that is read. Our choice: Parquet's own are six
// deep.
const deepestThrift = 32

// thriftShort is the error for data that ends early.
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

// take returns the next n bytes, or nil when there are fewer.
func (t *thrift) take(n uint64) []byte {
	if t.wrong != "" || n > uint64(len(t.bytes)-t.at) {
		t.fail(thriftShort)
		return nil
	}
	t.at += int(n)
	return t.bytes[t.at-int(n) : t.at]
}

// count reads an unsigned integer.
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

// number reads a signed integer.
func (t *thrift) number() int64 {
	v := t.count()
	return int64(v>>1) ^ -int64(v&1)
}

// fields calls do for each field of a structure. do must read the value.
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

// structure calls do for each field, if the value is a structure.
func (t *thrift) structure(kind byte, do func(id int64, kind byte)) {
	if kind != thriftStruct {
		t.skip(kind)
		return
	}
	t.fields(do)
}

// list calls do for each element, if the value is a list. do must read the element.
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

// integer reads an integer value; any other type is an error.
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

// text reads a text value; any other type is an error.
func (t *thrift) text(kind byte) []byte {
	if kind != thriftBinary {
		t.skip(kind)
		return nil
	}
	return t.take(t.count())
}

// skip skips a value.
func (t *thrift) skip(kind byte) {
	switch kind {
	case thriftTrue, thriftFalse: // the type itself is the value
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

// element skips an element of a list, where a boolean has a byte of its own.
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
