package shapefile

import "testing"

// TestHeadsOfTables: the head of a table of version III (dBASE, "Table File Structure": version,
// year, month and day, number of records, length of the head, of a record) on the first and the
// last day of a year, and heads that are none.
func TestHeadsOfTables(t *testing.T) {
	head := func(version, month, day, length byte) []byte {
		return append([]byte{version, 126, month, day, 1, 0, 0, 0, length, 0, 9, 0}, make([]byte, 20)...)
	}
	with := func(at int) []byte {
		b := head(3, 6, 15, 65)
		b[at] = 1
		return b
	}
	for _, good := range [][]byte{with(11), with(14), head(3, 1, 1, 65), head(3, 12, 31, 65), head(0x83, 6, 15, 97)} {
		if !IsTable(good) {
			t.Errorf("% x is no head", good)
		}
	}
	for _, bad := range [][]byte{with(12), with(13), head(4, 6, 15, 65), head(3, 0, 15, 65), head(3, 13, 15, 65), head(3, 6, 0, 65), head(3, 6, 32, 65), head(3, 6, 15, 64), head(3, 6, 15, 65)[:31]} {
		if IsTable(bad) {
			t.Errorf("% x is a head", bad)
		}
	}
}
