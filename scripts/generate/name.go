package main

import "fmt"

// namedLines is the fewest lines of a river with a name: small brooks have none, as on national
// stream maps. Our choice.
const namedLines = 4

// nameRivers returns a name by cell: at every confluence the larger upstream line keeps the name of
// the line below, and the others begin rivers with new names.
func nameRivers(basin int, cells []cell) []string {
	heir := make([]int, len(cells)) // by cell: the largest cell upstream
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
