package batch

import (
	"fmt"
	"testing"

	"driftreach/internal/earlier"
	"driftreach/internal/lineage"
	"driftreach/internal/observed"
)

// TestFamiliesOfLinks: which known stands and groups belong together, in the order of their first links,
// and who keeps each known stand's identity: the heir, wherever it stands among the links, else the first
// that continues it, which may be the first of all; by hand.
func TestFamiliesOfLinks(t *testing.T) {
	for _, c := range []struct {
		name          string
		known, groups int
		links         []lineage.Link
		want          string // known, groups and links of each family; the heirs
	}{
		{"none", 2, 1, nil, "[] [-1 -1]"},
		{"the first of all, then another", 1, 2, []lineage.Link{{Known: 0, Stand: 0}, {Known: 0, Stand: 1}}, "[{[0] [0 1] [0 1]}] [0]"},
		{"the heir first, then another", 1, 2, []lineage.Link{{Known: 0, Stand: 0, Heir: true}, {Known: 0, Stand: 1}}, "[{[0] [0 1] [0 1]}] [0]"},
		{"another first, then the heir", 1, 3, []lineage.Link{{Known: 0, Stand: 0}, {Known: 0, Stand: 1, Heir: true}, {Known: 0, Stand: 2}}, "[{[0] [0 1 2] [0 1 2]}] [1]"},
		{"later ones, without an heir", 2, 3, []lineage.Link{{Known: 1, Stand: 1}, {Known: 1, Stand: 2}}, "[{[1] [1 2] [0 1]}] [-1 1]"},
		{"two that became one", 2, 1, []lineage.Link{{Known: 0, Stand: 0, Heir: true}, {Known: 1, Stand: 0}}, "[{[0 1] [0] [0 1]}] [0 0]"},
		{"two apart", 2, 2, []lineage.Link{{Known: 1, Stand: 0, Heir: true}, {Known: 0, Stand: 1, Heir: true}}, "[{[1] [0] [0]} {[0] [1] [1]}] [1 0]"},
		{"tied by the last link", 3, 3, []lineage.Link{{Known: 0, Stand: 0, Heir: true}, {Known: 1, Stand: 1, Heir: true}, {Known: 2, Stand: 2, Heir: true}, {Known: 0, Stand: 2}}, "[{[0 2] [0 2] [0 2 3]} {[1] [1] [1]}] [0 1 2]"},
	} {
		k := computation{in: observed.Quarter{Previous: &earlier.Batch{Known: make([]lineage.Known, c.known)}}, lineage: lineage.Lineage{Links: c.links, Groups: make([][]int32, c.groups)}}
		families, heirs := k.families()
		if got := fmt.Sprint(families, heirs); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
