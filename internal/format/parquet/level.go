package parquet

import (
	"encoding/binary"
	"math/bits"
)

// runs decodes integers in Parquet's RLE/bit-packed hybrid encoding, used for levels and dictionary
// indices (Apache Parquet format, Encodings.md, RLE = 3): either runs of one value, or groups of eight
// values with a fixed number of bits each.
type runs struct {
	bytes  []byte
	width  uint // bits of a value
	left   uint64
	same   bool
	number uint32 // the value of a run of one value
	bit    uint64 // in a packed run: bit position of the next value
	end    int    // in a packed run: where the next run begins
}

// levelWidth is the number of bits for levels from 0 to most.
func levelWidth(most int) uint { return uint(bits.Len(uint(most))) }

// next returns the next value, and false when there is none.
func (r *runs) next() (uint32, bool) {
	for r.left == 0 {
		if !r.begin() {
			return 0, false
		}
	}
	r.left--
	if r.same {
		return r.number, true
	}
	v := uint32(0)
	for got := uint(0); got < r.width; {
		at, shift := r.bit/8, uint(r.bit%8)
		n := min(8-shift, r.width-got)
		v |= uint32(r.bytes[at]>>shift) & (1<<n - 1) << got
		got += n
		r.bit += uint64(n)
	}
	return v, true
}

// begin reads the header of the next run.
func (r *runs) begin() bool {
	if !r.same && r.end > 0 {
		r.bytes, r.end = r.bytes[r.end:], 0
	}
	head, n := binary.Uvarint(r.bytes)
	if n <= 0 {
		return false
	}
	r.bytes = r.bytes[n:]
	r.same = head&1 == 0
	if r.left = head >> 1; !r.same {
		return r.packed()
	}
	size := int(r.width+7) / 8
	if len(r.bytes) < size {
		return false
	}
	r.number = 0
	for i := range size {
		r.number |= uint32(r.bytes[i]) << (8 * i)
	}
	r.bytes = r.bytes[size:]
	return true
}

// packed begins a run of groups of eight. The last group of a page may be cut off after the values that
// exist.
func (r *runs) packed() bool {
	groups := r.left
	size := groups * uint64(r.width)
	if groups > 1<<32 || r.width > 0 && len(r.bytes) == 0 {
		return false
	}
	r.left, r.bit = groups*8, 0
	if have := uint64(len(r.bytes)); size > have {
		size = have
		r.left = have * 8 / uint64(r.width)
	}
	r.end = int(size)
	return true
}
