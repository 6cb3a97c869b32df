package survey

import (
	"encoding/binary"
	"fmt"
	"slices"
	"sync/atomic"
)

// Kept are the records of a quarter, sorted by id, packed where memory is spared. It is safe for
// concurrent use.
type Kept struct {
	blocks   []Text
	last     []byte   // the records of a block that is not full
	ends     []uint32 // where each of them ends
	files    []string
	byFile   []int // records
	count    int
	detected int
	dated    bool // a record has a date
	put      Put

	raw   [rawSlots]atomic.Pointer[rawBlock]
	ready [readySlots]atomic.Pointer[readyRecord]
}

// Text is a packed text that can be read.
type Text interface{ Bytes() []byte }

// Put copies a packed text to where it is kept.
type Put = func([]byte) (Text, error)

// inBlock is how many records are put together. Our choice: some 5 kilobytes, so that a neighbour costs
// nothing, and one record of a block little.
const inBlock = 32

// The number of blocks and of records that are kept as read. Our choice: less than a megabyte, enough
// for the records of a stand and for those that several writers are at.
const (
	rawSlots   = 64
	readySlots = 512
)

type rawBlock struct {
	number int
	bytes  []byte
}

type readyRecord struct {
	index  int
	record Record
}

// NewKept returns an empty list of records that puts blocks of them by put.
func NewKept(put Put) *Kept { return &Kept{put: put} }

// Add adds a record. End must follow the last. The error is that of put.
func (k *Kept) Add(r *Record) error {
	file := slices.Index(k.files, r.File)
	if file < 0 {
		file = len(k.files)
		k.files, k.byFile = append(k.files, r.File), append(k.byFile, 0)
	}
	k.last = r.AppendPacked(binary.AppendUvarint(k.last, uint64(file)))
	return k.added(file, r.Detected, !r.Begin.IsZero())
}

// added counts the record at the end of last.
func (k *Kept) added(file int, detected, dated bool) error {
	k.ends = append(k.ends, uint32(len(k.last)))
	k.count++
	k.byFile[file]++
	if detected {
		k.detected++
	}
	k.dated = k.dated || dated
	if len(k.ends) < inBlock {
		return nil
	}
	return k.End()
}

// Without returns the records but those that are gone, by index, and leaves k as it is. The error is that
// of put.
func (k *Kept) Without(gone []bool) (*Kept, error) {
	out := NewKept(k.put)
	out.files, out.byFile = k.files, make([]int, len(k.files))
	for i := range k.count {
		if gone[i] {
			continue
		}
		packed := k.packed(i)
		file, used := binary.Uvarint(packed)
		g := packedGlance(packed[used:])
		out.last = append(out.last, packed...)
		if err := out.added(int(file), g.Detected, !g.Begin.IsZero()); err != nil {
			return nil, err
		}
	}
	return out, out.End()
}

// End puts what is left. Nothing may be added after a block that is not full.
func (k *Kept) End() error {
	if len(k.ends) == 0 {
		return nil
	}
	head := make([]byte, 0, 4*len(k.ends)+len(k.last))
	for _, end := range k.ends {
		head = binary.LittleEndian.AppendUint32(head, end)
	}
	text, err := k.put(append(head, k.last...))
	if err != nil {
		return err
	}
	k.blocks = append(k.blocks, text)
	k.last, k.ends = k.last[:0], k.ends[:0]
	return nil
}

// Len returns the number of records.
func (k *Kept) Len() int { return k.count }

// Detected returns the number of finds.
func (k *Kept) Detected() int { return k.detected }

// Of returns the number of records from a file.
func (k *Kept) Of(file string) int {
	if i := slices.Index(k.files, file); i >= 0 {
		return k.byFile[i]
	}
	return 0
}

// Dated says whether any record has a date.
func (k *Kept) Dated() bool { return k.dated }

// At returns record i. It must not be changed. It panics with the error of a disk that does not give back
// what was put on it.
func (k *Kept) At(i int) *Record {
	slot := &k.ready[i%readySlots]
	if held := slot.Load(); held != nil && held.index == i {
		return &held.record
	}
	read := &readyRecord{index: i}
	k.unpack(i, &read.record)
	slot.Store(read)
	return &read.record
}

func (k *Kept) unpack(i int, to *Record) {
	packed := k.packed(i)
	file, used := binary.Uvarint(packed)
	if err := to.Unpack(packed[used:]); err != nil {
		panic(fmt.Errorf("record %d: %w", i, err))
	}
	to.File = k.files[file]
}

// packed returns the number of record i's file, and the packed record.
func (k *Kept) packed(i int) []byte {
	block := k.block(i / inBlock)
	n := min(inBlock, k.count-i/inBlock*inBlock)
	at, from := i%inBlock, uint32(0)
	if at > 0 {
		from = binary.LittleEndian.Uint32(block[4*at-4:])
	}
	return block[4*n+int(from) : 4*n+int(binary.LittleEndian.Uint32(block[4*at:]))]
}

// Glance returns what it has of record i, without reading the rest of the record.
func (k *Kept) Glance(i int) Glance {
	packed := k.packed(i)
	_, used := binary.Uvarint(packed)
	return packedGlance(packed[used:])
}

func (k *Kept) block(number int) []byte {
	slot := &k.raw[number%rawSlots]
	if held := slot.Load(); held != nil && held.number == number {
		return held.bytes
	}
	read := &rawBlock{number, k.blocks[number].Bytes()}
	slot.Store(read)
	return read.bytes
}

// Numbers makes to record i without its texts and its file, which takes a third of the time.
func (k *Kept) Numbers(i int, to *Record) {
	packed := k.packed(i)
	_, used := binary.Uvarint(packed)
	if err := to.unpackNumbers(packed[used:]); err != nil {
		panic(fmt.Errorf("record %d: %w", i, err))
	}
}

// Some returns the given records as Numbers does.
func (k *Kept) Some(indices []int32) []Record {
	out := make([]Record, len(indices))
	for at, i := range indices {
		k.Numbers(int(i), &out[at])
	}
	return out
}
