package shape

import "math"

// capsuleGrid finds the capsules near a box. Each cell lists the capsules whose segment, without
// its width, may pass through it.
type capsuleGrid struct {
	x, y, cell    float64
	columns, rows int
	first         []int32
	items         []int32
	widest        float64
	most          int // the largest number listed near an element
}

// newCapsuleGrid chooses cells about as large as a capsule's box. Memory grows with the length of
// the capsules over the cell size, within a limit.
func newCapsuleGrid(s *capsules) capsuleGrid {
	g := capsuleGrid{x: math.Inf(1), y: math.Inf(1), most: crowded}
	if len(s.capsules) == 0 {
		return g
	}
	right, top, total := math.Inf(-1), math.Inf(-1), 0.0
	for _, n := range s.nodes {
		g.x, right = min(g.x, n.x), max(right, n.x)
		g.y, top = min(g.y, n.y), max(top, n.y)
		g.widest = max(g.widest, n.r)
	}
	for _, t := range s.capsules {
		total += t.length
	}
	n := float64(len(s.capsules))
	// Our choice: cells of a radius and a mean length, at most four for each capsule, so that the
	// grid stays in proportion to its contents.
	g.cell = max(g.widest, total/n, math.Sqrt((right-g.x)*(top-g.y)/(4*n)), max(right-g.x, top-g.y)/(4*n))
	g.columns, g.rows = int((right-g.x)/g.cell)+1, int((top-g.y)/g.cell)+1
	g.fill(s)
	return g
}

// fill first counts the capsules of each cell, then lists them.
func (g *capsuleGrid) fill(s *capsules) {
	g.first = make([]int32, g.columns*g.rows+1)
	for _, t := range s.capsules {
		g.walk(s.nodes[t.a], s.nodes[t.b], func(at int) { g.first[at+1]++ })
	}
	for i := range g.columns * g.rows {
		g.first[i+1] += g.first[i]
	}
	g.items = make([]int32, g.first[len(g.first)-1])
	next := append([]int32(nil), g.first...)
	for i, t := range s.capsules {
		g.walk(s.nodes[t.a], s.nodes[t.b], func(at int) {
			g.items[next[at]] = int32(i)
			next[at]++
		})
	}
}

// walk visits the cells that segment pq passes through, column by column, with a small margin.
func (g *capsuleGrid) walk(p, q circle, visit func(at int)) {
	if p.x > q.x {
		p, q = q, p
	}
	slack := 1e-6 * g.cell
	for c := g.column(p.x - slack); c <= g.column(q.x+slack); c++ {
		lo, hi := p.y, q.y
		if q.x > p.x {
			slope := (q.y - p.y) / (q.x - p.x)
			x0 := g.x + float64(c)*g.cell - slack
			x1 := x0 + g.cell + 2*slack
			lo = p.y + slope*(min(max(x0, p.x), q.x)-p.x)
			hi = p.y + slope*(min(max(x1, p.x), q.x)-p.x)
		}
		if lo > hi {
			lo, hi = hi, lo
		}
		for r := g.row(lo - slack); r <= g.row(hi+slack); r++ {
			visit(r*g.columns + c)
		}
	}
}

func (g *capsuleGrid) column(x float64) int { return clampCell((x-g.x)/g.cell, g.columns) }
func (g *capsuleGrid) row(y float64) int    { return clampCell((y-g.y)/g.cell, g.rows) }

func clampCell(v float64, n int) int { return min(max(int(math.Floor(v)), 0), n-1) }

// box is a rectangle.
type box struct{ left, bottom, right, top float64 }

// near appends the capsules that may come within their width of b, each once, until there are more
// than most. w.mark holds the round in which a capsule was last seen.
func (g *capsuleGrid) near(b box, w *capsuleScratch, found []int32) []int32 {
	c0, c1 := g.column(b.left-g.widest), g.column(b.right+g.widest)
	r0, r1 := g.row(b.bottom-g.widest), g.row(b.top+g.widest)
	for r := r0; r <= r1; r++ {
		// The cells of a row are stored one after another.
		for _, i := range g.items[g.first[r*g.columns+c0]:g.first[r*g.columns+c1+1]] {
			if w.mark[i] != w.round {
				w.mark[i] = w.round
				if found = append(found, i); len(found) > g.most {
					return found
				}
			}
		}
	}
	return found
}
