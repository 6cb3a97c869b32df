package mapfile

import "github.com/twpayne/go-kml/v3"

// Number of features in a piece. Our choice: a piece is about half a megabyte of text, whatever its
// features are.
const (
	standsApiece  = 64
	reachesApiece = 256
	pointsApiece  = 256
	briefApiece   = 1024 // points with short balloons
)

// features adds the given rows, n in each piece.
func (d *document) features(rows []int32, n int, where placed, add func(m *mapper, i int) kml.Element) {
	d.layout(rows, n, where, func(to *document, rows []int32) { to.inPieces(rows, n, add) })
}

// layout adds the given rows, n in each piece, as add adds them to this document or to a part of it.
func (d *document) layout(rows []int32, n int, where placed, add func(to *document, rows []int32)) {
	if d.inParts {
		d.split(rows, n, where, add)
	} else {
		add(d, rows)
	}
}

// where returns the indices below n for which keep is true.
func where(n int, keep func(i int) bool) []int32 {
	var rows []int32
	for i := range n {
		if keep(i) {
			rows = append(rows, int32(i))
		}
	}
	return rows
}
