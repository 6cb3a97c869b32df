package mapfile

// Lengths of the pieces in features: our choice, so that a piece is about half
// a megabyte of text whatever it holds.
const (
	standsApiece  = 64
	reachesApiece = 256
	pointsApiece  = 1024
)

// features adds the given rows, n to a piece.
func (d *document) features(rows []int32, n int, where placed, add func(m *mapper, b []byte, i int) []byte) {
	if d.inParts {
		d.split(rows, n, where, add)
	} else {
		d.inPieces(rows, n, add)
	}
}

// where returns the indices below n that keep says yes to.
func where(n int, keep func(i int) bool) []int32 {
	var rows []int32
	for i := range n {
		if keep(i) {
			rows = append(rows, int32(i))
		}
	}
	return rows
}
