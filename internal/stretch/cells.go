package stretch

import (
	"encoding/binary"
	"math"

	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// Cells holds the cells of a stretch, in downstream order, packed into bytes: a country has tens of
// millions of cells. A run of cells with the same looks is stored as the number of cells, the looks
// at the two banks, and the exposures: one per cell in a run where both banks have the same
// exposure, otherwise two.
type Cells struct{ packed []byte }

// bytesOfLook is the number of bytes of a packed look.
const bytesOfLook = 4

// PackCells packs cells.
func PackCells(cells []Cell) Cells {
	var b []byte
	for len(cells) > 0 {
		n, one := run(cells)
		both := uint64(1)
		if one {
			both = 0
		}
		b = binary.AppendUvarint(b, uint64(n)<<1|both)
		for _, bank := range cells[0].Banks {
			b = bank.Last.pack(b)
		}
		for _, c := range cells[:n] {
			b = binary.LittleEndian.AppendUint64(b, bits(c.Banks[0].Exposure))
			if !one {
				b = binary.LittleEndian.AppendUint64(b, bits(c.Banks[1].Exposure))
			}
		}
		cells = cells[n:]
	}
	return Cells{append([]byte(nil), b...)} // a copy without spare capacity
}

func bits(a drift.Amount) uint64 { return math.Float64bits(float64(a)) }

// run returns how many of the first cells can be packed as one run: their looks are the same, and
// either all or none of them have the same exposure at both banks. one says which.
func run(cells []Cell) (n int, one bool) {
	alike := func(c *Cell) bool {
		return bits(c.Banks[0].Exposure) == bits(c.Banks[1].Exposure)
	}
	first := &cells[0]
	one = alike(first)
	for n < len(cells) && alike(&cells[n]) == one && cells[n].Banks[0].Last == first.Banks[0].Last && cells[n].Banks[1].Last == first.Banks[1].Last {
		n++
	}
	return n, one
}

func (l Look) pack(b []byte) []byte {
	b = binary.LittleEndian.AppendUint16(append(b, byte(l.State)), uint16(l.Quarter.Year))
	return append(b, byte(l.Quarter.Number))
}

func unpackLook(b []byte) Look {
	return Look{State(b[0]), survey.Quarter{Year: int16(binary.LittleEndian.Uint16(b[1:])), Number: int8(b[3])}}
}

// Append appends the unpacked cells.
func (c Cells) Append(to []Cell) []Cell {
	exposure := func(b []byte) drift.Amount {
		return drift.Amount(math.Float64frombits(binary.LittleEndian.Uint64(b)))
	}
	for b := c.packed; len(b) > 0; {
		head, size := binary.Uvarint(b)
		b = b[size:]
		var looks [2]Look
		for i := range looks {
			looks[i], b = unpackLook(b), b[bytesOfLook:]
		}
		for range head >> 1 {
			left := exposure(b)
			b = b[8:]
			right := left
			if head&1 == 1 {
				right, b = exposure(b), b[8:]
			}
			to = append(to, Cell{[2]Bank{{looks[0], left}, {looks[1], right}}})
		}
	}
	return to
}
