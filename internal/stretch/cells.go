package stretch

import (
	"encoding/binary"
	"math"

	"driftreach/internal/survey"
)

// Cells are the cells of a stretch, downstream, in the bytes that they take: a country has tens
// of millions of cells. Each run of cells with the same looks at both banks is a count, these
// looks, and the exposures: one a cell as long as both banks have the same, else two.
type Cells struct{ packed []byte }

// bytesOfLook is how many bytes a look takes.
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
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(c.Banks[0].Exposure))
			if !one {
				b = binary.LittleEndian.AppendUint64(b, math.Float64bits(c.Banks[1].Exposure))
			}
		}
		cells = cells[n:]
	}
	return Cells{append([]byte(nil), b...)} // with no room behind
}

// run returns how many of the first cells have the same looks, and all or none of them the same
// exposure at both banks.
func run(cells []Cell) (n int, one bool) {
	alike := func(c *Cell) bool {
		return math.Float64bits(c.Banks[0].Exposure) == math.Float64bits(c.Banks[1].Exposure)
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

// Append appends the cells as they were packed.
func (c Cells) Append(to []Cell) []Cell {
	exposure := func(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }
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
