package parquet

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// column reads a column of one row group, page by page. It keeps one page and the dictionary in memory.
type column struct {
	leaf
	file       *file
	at, end    int64 // the rest of the chunk
	codec      int64
	dictionary []value
	held       int64 // bytes of the page in memory
	learned    int64 // bytes of the dictionary in memory

	left        int // levels of the page that are not read yet
	repetitions runs
	definitions runs
	values      values
	ahead       bool // look has read the entry below, but take has not
	entry       entry
}

// entry is one value of a column, or a null.
type entry struct {
	repetition int // 0 where a row begins
	definition int
	value      value
}

// errNoMore says that the column has no more values.
var errNoMore = errors.New("the column ends early")

// begin moves to the column's chunk in a row group.
func (c *column) begin(k *chunk) error {
	c.file.held -= c.held + c.learned
	*c = column{leaf: c.leaf, file: c.file, at: k.data, codec: k.codec}
	switch {
	case k.encrypted:
		return errors.New("it is encrypted")
	case k.elsewhere:
		return errors.New("it lies in another file")
	case codecNames[k.codec] != "":
		return fmt.Errorf("its compression %s is not read", codecNames[k.codec])
	}
	if k.dictionary > 0 && k.dictionary < k.data {
		c.at = k.dictionary
	}
	// the first four bytes of a file are its signature
	if c.at < 4 || k.bytes < 0 || k.bytes > c.file.size-c.at {
		return errors.New("it lies outside the file")
	}
	c.end = c.at + k.bytes
	return nil
}

// look returns the next entry without consuming it.
func (c *column) look() (*entry, error) {
	if c.ahead {
		return &c.entry, nil
	}
	for c.left == 0 {
		if err := c.page(); err != nil {
			return nil, err
		}
	}
	c.left--
	e := entry{definition: c.definition}
	var deep, again uint32
	ok := true
	if c.repetition > 0 {
		again, ok = c.repetitions.next()
		e.repetition = int(again)
	}
	if ok && c.definition > 0 {
		deep, ok = c.definitions.next()
		e.definition = int(deep)
	}
	if !ok || e.definition > c.definition || e.repetition > c.repetition {
		return nil, errors.New("its levels cannot be read")
	}
	if e.definition == c.definition {
		if e.value, ok = c.values.next(); !ok {
			return nil, errors.New("its values cannot be read")
		}
	}
	c.entry, c.ahead = e, true
	return &c.entry, nil
}

// take returns the next entry and consumes it.
func (c *column) take() (*entry, error) {
	e, err := c.look()
	c.ahead = false
	return e, err
}

// page reads the next page.
func (c *column) page() error {
	if c.at >= c.end {
		return errNoMore
	}
	h, err := c.head()
	if err != nil {
		return err
	}
	if h.packed < 0 || h.packed > c.end-c.at || h.size < 0 || h.count < 0 || h.deep < 0 || h.again < 0 || h.deep+h.again > min(h.packed, h.size) {
		return errors.New("a page's header makes no sense")
	}
	if h.kind == pageIndex {
		c.at += h.packed
		return nil
	}
	page, err := c.unpacked(h)
	if err != nil {
		return err
	}
	switch h.kind {
	case pageDictionary:
		return c.learn(page, h)
	case pageData:
		return c.open(page, h)
	case pageData2:
		c.repetitions = runs{bytes: page[:h.again], width: levelWidth(c.repetition)}
		c.definitions = runs{bytes: page[h.again : h.again+h.deep], width: levelWidth(c.definition)}
		c.left = int(h.count)
		c.values, err = c.valuesOf(h.encoding, page[h.again+h.deep:], c.dictionary)
		return err
	}
	return fmt.Errorf("a page is of kind %d", h.kind)
}

// unpacked reads the page's bytes and decompresses them where they are compressed.
func (c *column) unpacked(h pageHead) ([]byte, error) {
	if err := c.file.hold(c, h); err != nil {
		return nil, err
	}
	packed := make([]byte, h.packed)
	if _, err := c.file.at.ReadAt(packed, c.at); err != nil && err != io.EOF {
		return nil, err
	}
	c.at += h.packed
	plain := int64(0)
	if h.kind == pageData2 {
		if plain = h.deep + h.again; h.unpackedValues {
			return packed, nil
		}
	}
	if h.size == plain && h.packed == plain { // levels and no values
		return packed, nil
	}
	page, err := unpack(c.codec, packed[plain:], int(h.size-plain))
	if err != nil {
		return nil, fmt.Errorf("a page cannot be unpacked: %w", err)
	}
	if plain > 0 {
		page = append(packed[:plain:plain], page...)
	}
	return page, nil
}

// learn reads the dictionary page, which stays in memory.
func (c *column) learn(page []byte, h pageHead) error {
	if c.dictionary != nil || h.encoding != encodingPlain && h.encoding != encodingPlainDictionary || c.physical == parquetBoolean {
		return errors.New("its dictionary cannot be read")
	}
	values := plainValues{bytes: page, physical: c.physical, length: int(c.length)}
	c.dictionary = make([]value, 0, min(h.count, int64(len(page)/4)))
	for range h.count {
		v, ok := values.next()
		if !ok {
			return errors.New("its dictionary ends early")
		}
		c.dictionary = append(c.dictionary, v)
	}
	return nil
}

// open begins a version 1 data page. Levels come first, each kind after its length.
func (c *column) open(page []byte, h pageHead) error {
	for _, level := range []struct {
		most     int
		encoding int64
		into     *runs
	}{{c.repetition, h.levels[1], &c.repetitions}, {c.definition, h.levels[0], &c.definitions}} {
		if level.most == 0 { // such levels are not written, whatever encoding the header gives
			continue
		}
		if level.encoding != encodingRuns {
			return fmt.Errorf("its levels are encoded in way %d, which is not read", level.encoding)
		}
		if len(page) < 4 {
			return errors.New("a page ends early")
		}
		n := uint64(binary.LittleEndian.Uint32(page))
		if page = page[4:]; n > uint64(len(page)) {
			return errors.New("a page ends early")
		}
		*level.into = runs{bytes: page[:n], width: levelWidth(level.most)}
		page = page[n:]
	}
	c.left = int(h.count)
	var err error
	c.values, err = c.valuesOf(h.encoding, page, c.dictionary)
	return err
}
