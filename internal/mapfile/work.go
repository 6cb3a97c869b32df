package mapfile

import "driftreach/internal/work"

// work appends the place of a planned work; null if nothing is left of it.
func (c *collection) work(b []byte, w *work.Work) []byte {
	switch {
	case len(w.Areas) > 0:
		return c.polygon(b, onGrid(w.Areas))
	case len(w.Lines) > 0:
		return c.paths(b, workLines(w))
	}
	return c.points(b, workPoints(w))
}

// workPoints returns a work's points in written form.
func workPoints(w *work.Work) []place {
	out := make([]place, 0, len(w.Points))
	for _, p := range w.Points {
		if finite(p) {
			out = append(out, wrapped(p))
		}
	}
	return out
}

// workLines returns a work's lines in written form.
func workLines(w *work.Work) [][]place {
	var out [][]place
	for _, line := range w.Lines {
		out = append(out, lines(line)...)
	}
	return out
}
