package report

import "slices"

// mapDrawing is one map under way.
type mapDrawing struct {
	canvas
	view  view
	taken []box // where something is drawn that words must not hide
}

// layer draws path data in a class; nothing when there is none.
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

// free says whether a box lies on the map and hides nothing.
func (m *mapDrawing) free(b box) bool {
	if b.left < 0 || b.top < 0 || b.right > m.view.width || b.bottom > m.view.height {
		return false
	}
	return !slices.ContainsFunc(m.taken, b.meets)
}
