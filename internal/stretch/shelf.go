package stretch

import (
	"encoding/binary"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/spill"
)

// A stretch on a shelf is the number of its vertices, the vertices, and its packed cells.

// keep puts the line and the cells on a shelf, and takes them out of memory. It uses room, and returns it
// for reuse.
func (s *Stretch) keep(line orb.LineString, cells Cells, shelf *spill.Shelf, room []byte) []byte {
	b := binary.AppendUvarint(room[:0], uint64(len(line)))
	for _, p := range line {
		b = geo.AppendPoint(b, p)
	}
	b = append(b, cells.packed...)
	s.kept = shelf.Take(b)
	return b
}

// inMemory returns what of it is in memory; nothing where there is neither line nor cells.
func (s *Stretch) inMemory() Drawn {
	if s.Drawn == nil {
		return Drawn{}
	}
	return *s.Drawn
}

// Line returns the line of the stretch, in degrees, downstream: Path, or what is kept on a shelf.
func (s *Stretch) Line() orb.LineString {
	if s.kept.Len() == 0 {
		return s.inMemory().Path
	}
	n, b := vertices(s.kept.Bytes())
	line := make(orb.LineString, n)
	for i := range line {
		line[i], b = geo.PointOf(b), b[geo.BytesOfPoint:]
	}
	return line
}

// Start returns the first vertex of the line.
func (s *Stretch) Start() orb.Point {
	if s.kept.Len() == 0 {
		return s.inMemory().Path[0]
	}
	var room [binary.MaxVarintLen64 + geo.BytesOfPoint]byte
	_, b := vertices(s.kept.Read(room[:], min(len(room), s.kept.Len())))
	return geo.PointOf(b)
}

// AppendCells appends the cells of the stretch: those in memory, or those kept on a shelf.
func (s *Stretch) AppendCells(to []Cell) []Cell {
	if s.kept.Len() == 0 {
		return s.inMemory().Cells.Append(to)
	}
	n, b := vertices(s.kept.Bytes())
	return Cells{b[n*geo.BytesOfPoint:]}.Append(to)
}

// vertices returns the number of vertices, and what follows it.
func vertices(b []byte) (int, []byte) {
	n, size := binary.Uvarint(b)
	return int(n), b[size:]
}
