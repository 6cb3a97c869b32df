package main

import "math/rand/v2"

// cell is one square of a basin's lattice. A line runs from every cell except the outlet to the
// cell downstream.
type cell struct {
	x, y  int
	below int // index of the cell downstream; -1 for the outlet
	lines int // number of lines that end here or upstream, including this cell's own
}

// growBasin returns a random tree of n lines on a square lattice: n+1 cells, the outlet first and
// every cell after the cell downstream of it. Each new cell is added beside a random edge of the
// tree, which gives bushy, dendritic trees.
func growBasin(r *rand.Rand, n int) []cell {
	side := 1
	for side*side < n+1 {
		side++
	}
	type place struct{ x, y int }
	taken := map[place]bool{}
	cells := []cell{{x: 0, y: side / 2, below: -1}}
	taken[place{0, side / 2}] = true
	var edge []cell // free neighbours of the tree, each with the cell it would join
	widen := func(from int) {
		for _, d := range [4]place{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			x, y := cells[from].x+d.x, cells[from].y+d.y
			if x >= 0 && y >= 0 && x < side && y < side && !taken[place{x, y}] {
				edge = append(edge, cell{x: x, y: y, below: from})
			}
		}
	}
	widen(0)
	for len(cells) < n+1 {
		i := r.IntN(len(edge))
		next := edge[i]
		edge[i] = edge[len(edge)-1]
		edge = edge[:len(edge)-1]
		if at := (place{next.x, next.y}); !taken[at] {
			taken[at] = true
			cells = append(cells, next)
			widen(len(cells) - 1)
		}
	}
	for i := len(cells) - 1; i > 0; i-- {
		cells[i].lines++
		cells[cells[i].below].lines += cells[i].lines
	}
	return cells
}
