package main

import "fmt"

// namedLines is how many lines a river needs to have a name: small brooks have
// none, as in national stream maps. Our choice.
const namedLines = 4

// nameRivers returns a name by cell: at every confluence the larger line above
// keeps the name of the line below, the others begin rivers of their own.
func nameRivers(basin int, cells []cell) []string {
	heir := make([]int, len(cells)) // by cell: the largest cell above it
	for i := len(cells) - 1; i > 0; i-- {
		b := cells[i].below
		if heir[b] == 0 || cells[i].lines >= cells[heir[b]].lines {
			heir[b] = i
		}
	}
	names := make([]string, len(cells))
	for i, c := range cells {
		switch {
		case c.below >= 0 && heir[c.below] == i && names[c.below] != "":
			names[i] = names[c.below]
		case c.lines >= namedLines:
			names[i] = fmt.Sprintf("River %d-%d", basin+1, i+1)
		}
	}
	return names
}
