package parquet

import (
	"encoding/binary"
	"errors"
)

// deltas decodes delta-encoded integers (Apache Parquet format, Encodings.md, DELTA_BINARY_PACKED = 5).
// The values are packed in blocks of miniblocks. Each block has a minimum delta; each miniblock has a
// bit width for the rest. The decoder keeps only its position, not the values.
type deltas struct {
	bytes   []byte
	mini    uint64 // values in a miniblock
	count   uint64 // miniblocks in a block
	left    uint64 // values still to come
	first   bool
	last    uint64
	least   uint64
	widths  []byte // bit widths of the block's remaining miniblocks
	packed  []byte // bytes of the current miniblock
	inMini  uint64 // values left in the current miniblock
	bit     uint64
	width   uint64
	spoiled bool
}

var errDelta = errors.New("its differences cannot be read")

func newDeltas(page []byte) (*deltas, error) {
	d := &deltas{bytes: page, first: true}
	block := d.uvarint()
	d.count = d.uvarint()
	d.left = d.uvarint()
	d.last = d.varint()
	// the format says: a block is a multiple of 128 values, a miniblock of 32
	if d.spoiled || block == 0 || block%128 != 0 || block > 1<<20 || d.count == 0 || block%d.count != 0 || block/d.count%32 != 0 {
		return nil, errDelta
	}
	d.mini = block / d.count
	return d, nil
}

func (d *deltas) uvarint() uint64 {
	v, n := binary.Uvarint(d.bytes)
	if n <= 0 {
		d.spoiled = true
		return 0
	}
	d.bytes = d.bytes[n:]
	return v
}

func (d *deltas) varint() uint64 {
	v := d.uvarint()
	return v>>1 ^ -(v & 1)
}

// number returns the next value, and false when there are no more.
func (d *deltas) number() (int64, bool) {
	if d.left == 0 || d.spoiled {
		return 0, false
	}
	d.left--
	if d.first {
		d.first = false
		return int64(d.last), true
	}
	if d.inMini == 0 && !d.begin() {
		return 0, false
	}
	d.inMini--
	v := uint64(0)
	for got := uint64(0); got < d.width; {
		shift := d.bit % 8
		n := min(8-shift, d.width-got)
		v |= uint64(d.packed[d.bit/8]>>shift) & (1<<n - 1) << got
		got += n
		d.bit += n
	}
	d.last += d.least + v
	return int64(d.last), true
}

func (d *deltas) next() (value, bool) {
	v, ok := d.number()
	return value{bits: uint64(v)}, ok
}

// begin reads the next miniblock. Before a block's first one it reads the block's header.
func (d *deltas) begin() bool {
	if len(d.widths) == 0 {
		d.least = d.varint()
		if d.spoiled || uint64(len(d.bytes)) < d.count {
			return false
		}
		d.widths, d.bytes = d.bytes[:d.count], d.bytes[d.count:]
	}
	d.width, d.widths = uint64(d.widths[0]), d.widths[1:]
	size := d.mini / 8 * d.width
	if d.width > 64 || size > uint64(len(d.bytes)) {
		return false
	}
	d.packed, d.bytes = d.bytes[:size], d.bytes[size:]
	d.inMini, d.bit = d.mini, 0
	return true
}

// after returns the bytes after all the values. It works on a copy of d. In the last block, miniblocks
// without values take no bytes.
func (d deltas) after() ([]byte, bool) {
	if d.left > 0 && d.first {
		d.left--
	}
	for d.left > 0 {
		if !d.begin() {
			return nil, false
		}
		d.left -= min(d.left, d.mini)
	}
	return d.bytes, true
}

// deltaTexts are texts stored after a list of all their lengths.
type deltaTexts struct {
	lengths *deltas
	bytes   []byte
}

func newDeltaTexts(page []byte) (*deltaTexts, error) {
	lengths, err := newDeltas(page)
	if err != nil {
		return nil, err
	}
	rest, ok := lengths.after()
	if !ok {
		return nil, errDelta
	}
	return &deltaTexts{lengths, rest}, nil
}

func (d *deltaTexts) next() (value, bool) {
	n, ok := d.lengths.number()
	if !ok || n < 0 || n > int64(len(d.bytes)) {
		return value{}, false
	}
	v := d.bytes[:n:n]
	d.bytes = d.bytes[n:]
	return value{bytes: v}, true
}

// deltaSuffixes are texts of which each is stored as the length of the prefix it shares with the one
// before, and a suffix.
type deltaSuffixes struct {
	prefixes *deltas
	suffixes *deltaTexts
	last     []byte
}

func newDeltaSuffixes(page []byte) (*deltaSuffixes, error) {
	prefixes, err := newDeltas(page)
	if err != nil {
		return nil, err
	}
	rest, ok := prefixes.after()
	if !ok {
		return nil, errDelta
	}
	suffixes, err := newDeltaTexts(rest)
	if err != nil {
		return nil, err
	}
	return &deltaSuffixes{prefixes: prefixes, suffixes: suffixes}, nil
}

func (d *deltaSuffixes) next() (value, bool) {
	n, ok := d.prefixes.number()
	suffix, more := d.suffixes.next()
	if !ok || !more || n < 0 || n > int64(len(d.last)) {
		return value{}, false
	}
	d.last = append(d.last[:n], suffix.bytes...)
	return value{bytes: d.last}, true
}
