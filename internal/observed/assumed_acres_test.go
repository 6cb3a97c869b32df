package observed

import (
	"testing"

	"driftreach/internal/settings"
)

// TestOneRecordTakes: what is said of one record is said of one, and of several of
// several; by hand.
func TestOneRecordTakes(t *testing.T) {
	s, in := settings.Default(), &Quarter{}
	for finds, want := range map[int][2]string{
		1: {"patch area: no column; 1 record takes 0.1 ac each, 0.10 acres in all", "date: no column; 1 record counts as of the quarter, 0.10 acres"},
		3: {"patch area: no column; 1 record of 3 takes 0.1 ac each, 0.10 acres in all of 0.30", "date: no column; 3 records count as of the quarter, 0.30 acres"},
	} {
		all := 0.1 * float64(finds)
		w := weighed{finds: finds, noArea: 1, noDate: finds, all: all, assumed: 0.1, undated: all}
		if got := [2]string{w.patchLine(in, s), w.dateLine(in)}; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
