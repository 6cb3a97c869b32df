package correction

import "testing"

// TestTheFirstThatContradicts: of several rows that contradict one the first is named, whatever the order
// in which they are looked at; rows of its own kind contradict nothing.
func TestTheFirstThatContradicts(t *testing.T) {
	j := joiner{all: []Correction{{Kind: Misidentified}, {Kind: SameStand}, {Kind: NotSameStand}, {Kind: SameStand}}}
	for range 50 { // a map has no order
		for _, c := range []struct {
			row  int
			rows map[Kind]int
			want int
		}{
			{1, map[Kind]int{Misidentified: 0, NotSameStand: 2}, 0}, {1, map[Kind]int{NotSameStand: 2}, 2}, {0, map[Kind]int{SameStand: 1, NotSameStand: 2}, 1}, {3, map[Kind]int{SameStand: 1}, -1}, {2, map[Kind]int{SameStand: 3, Misidentified: 0}, 0}, {1, nil, -1},
		} {
			if got := j.against(c.row, c.rows); got != c.want {
				t.Fatalf("row %d against %v: %d, want %d", c.row, c.rows, got, c.want)
			}
		}
	}
}
