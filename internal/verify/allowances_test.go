package verify

import (
	"crypto/sha256"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"driftreach/internal/mapfile"
)

// TestBalanceAllowance: what a stage released may differ from what became of it by a billionth of it, or of one
// fragment where it is less than one; by hand, on both sides of both ends.
func TestBalanceAllowance(t *testing.T) {
	for _, c := range []struct {
		b     mapfile.Balance
		sound bool
	}{
		{mapfile.Balance{}, true},
		{mapfile.Balance{Released: 10, Settled: 1, Held: 2, Aged: 3, Left: 4}, true},
		{mapfile.Balance{Released: 10, Settled: 2, Held: 2, Aged: 3, Left: 4}, false},
		{mapfile.Balance{Released: 10, Settled: 1, Held: 3, Aged: 3, Left: 4}, false},
		{mapfile.Balance{Released: 10, Settled: 1, Held: 2, Aged: 4, Left: 4}, false},
		{mapfile.Balance{Released: 10, Settled: 1, Held: 2, Aged: 3, Left: 5}, false},
		{mapfile.Balance{Released: 1, Settled: 1 + 0.97e-9}, true},
		{mapfile.Balance{Released: 1, Settled: 1 - 0.97e-9}, true},
		{mapfile.Balance{Released: 1, Settled: 1 + 1.05e-9}, false},
		{mapfile.Balance{Released: 1, Settled: 1 - 1.05e-9}, false},
		{mapfile.Balance{Released: 0.1, Settled: 0.1 + 0.97e-9}, true},
		{mapfile.Balance{Released: 0.1, Settled: 0.1 + 1.05e-9}, false},
		{mapfile.Balance{Released: 1000, Left: 1000 + 0.97e-6}, true},
		{mapfile.Balance{Released: 1000, Left: 1000 + 1.05e-6}, false},
	} {
		c.b.Stage = "flood"
		said := Balance(c.b)
		if (said == "") != c.sound || said != "" && !strings.HasPrefix(said, "the fragments of stage flood do not add up: ") {
			t.Errorf("%+v: %q", c.b, said)
		}
	}
}

// TestFaultsBeyondTheFirst: of a file with many faults the first are told, and how many more there are.
func TestFaultsBeyondTheFirst(t *testing.T) {
	const told = 20
	for n, want := range map[int]string{0: "", 1: "", told: "", told + 1: "and 1 more", told + 2: "and 2 more", told + 30: "and 30 more"} {
		text := []byte("a,b\r\n" + strings.Repeat("=1,2\r\n", n))
		var r Report
		r.file(t.Context(), fstest.MapFS{"x.csv": {Data: text}}, mapfile.File{Name: "x.csv", Bytes: int64(len(text)), SHA256: fmt.Sprintf("%x", sha256.Sum256(text)), Read: n})
		last := ""
		if n > told {
			last = r.Problems[len(r.Problems)-1].Text
		}
		if lines := min(n, told+1); len(r.Problems) != lines || last != want || r.Files[0].Sound != (n == 0) {
			t.Errorf("%d faults: %d told, at last %q, want %q", n, len(r.Problems), last, want)
		}
	}
}
