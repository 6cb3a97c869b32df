package report

import "slices"

// mapDrawing is a map that is being drawn.
type mapDrawing struct {
	canvas
	view  view
	taken []box // areas that texts must not cover
}

// layer draws path data with a class; nothing if there is none.
func (m *mapDrawing) layer(class, data string) {
	if data != "" {
		m.raw(`<path class="`, class, `" d="`, data, "\"/>\n")
	}
}

// box is a rectangle on the grid.
type box struct{ left, top, right, bottom int }

func around(d dot, x, y int) box { return box{d.x - x, d.y - y, d.x + x, d.y + y} }

func (b box) meets(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

// free says whether a box is on the map and covers nothing.
func (m *mapDrawing) free(b box) bool {
	if b.left < 0 || b.top < 0 || b.right > m.view.width || b.bottom > m.view.height {
		return false
	}
	return !slices.ContainsFunc(m.taken, b.meets)
}
