package parquet

import (
	"errors"
	"io"
)

// pageHead is the header of a page.
type pageHead struct {
	kind           int64
	size, packed   int64
	count          int64
	encoding       int64
	levels         [2]int64 // encodings of the definition and repetition levels in a version 1 page
	deep, again    int64    // bytes of the definition and repetition levels in a version 2 page
	unpackedValues bool
}

// The page types.
const (
	pageData       = 0
	pageIndex      = 1
	pageDictionary = 2
	pageData2      = 3
)

// The bytes read for a page header. Headers may hold the minimum and maximum value and be long, but
// most are short. Our choice.
const (
	firstPageHead = 1 << 10
	mostPageHead  = 16 << 20
)

// head reads the page header at the column's position and moves past it.
func (c *column) head() (pageHead, error) {
	for size := int64(firstPageHead); ; size *= 16 {
		size = min(size, c.end-c.at)
		b := make([]byte, size)
		if _, err := c.file.at.ReadAt(b, c.at); err != nil && err != io.EOF {
			return pageHead{}, err
		}
		t := thrift{bytes: b}
		h := t.pageHead()
		switch {
		case t.wrong == "":
			c.at += int64(t.at)
			return h, nil
		case t.wrong != thriftShort || size == c.end-c.at || size >= mostPageHead:
			return pageHead{}, errors.New("a page's header cannot be read: " + t.wrong)
		}
	}
}

func (t *thrift) pageHead() pageHead {
	h := pageHead{kind: -1, levels: [2]int64{encodingRuns, encodingRuns}}
	t.fields(func(id int64, kind byte) {
		switch id {
		case 1:
			h.kind = t.integer(kind)
		case 2:
			h.size = t.integer(kind)
		case 3:
			h.packed = t.integer(kind)
		case 5, 7, 8:
			t.structure(kind, func(field int64, kind byte) { t.pageField(&h, id, field, kind) })
		default:
			t.skip(kind)
		}
	})
	return h
}

// pageField reads a field of the header of a data page (5), a dictionary page (7) or a version 2 data
// page (8).
func (t *thrift) pageField(h *pageHead, id, field int64, kind byte) {
	switch {
	case field == 1:
		h.count = t.integer(kind)
	case field == 2 && id != 8, field == 4 && id == 8:
		h.encoding = t.integer(kind)
	case (field == 3 || field == 4) && id == 5:
		h.levels[field-3] = t.integer(kind)
	case field == 5 && id == 8:
		h.deep = t.integer(kind)
	case field == 6 && id == 8:
		h.again = t.integer(kind)
	case field == 7 && id == 8:
		h.unpackedValues = kind == thriftFalse
		t.skip(kind)
	default:
		t.skip(kind)
	}
}
