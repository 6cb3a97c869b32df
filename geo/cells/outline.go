package cells

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// side is one side of a square, directed with the square on the left.
type side struct{ from, to Cell }

// Outline returns the area of the squares as polygons: exteriors counter-clockwise, holes
// clockwise. Rings are closed and simple, and touch each other only in single corners. n log n.
func (s Set) Outline() orb.MultiPolygon {
	sides := s.sides()
	at := make(map[Cell][]int, len(sides)) // sides by the corner they begin in
	for i := range sides {
		at[sides[i].from] = append(at[sides[i].from], i)
	}
	var outer, holes []orb.Ring
	used := make([]bool, len(sides))
	for first := range sides {
		if used[first] {
			continue
		}
		for _, ring := range walk(sides, at, used, first) {
			if signed(ring) > 0 {
				outer = append(outer, ring)
			} else {
				holes = append(holes, ring)
			}
		}
	}
	return assemble(outer, holes)
}

// sides returns the sides between a square in the set and one outside it.
func (s Set) sides() []side {
	has := make(map[Cell]bool, len(s))
	for _, c := range s {
		has[c] = true
	}
	var all []side
	for _, c := range s {
		sw, se, ne, nw := c, Cell{c.X + 1, c.Y}, Cell{c.X + 1, c.Y + 1}, Cell{c.X, c.Y + 1}
		for _, one := range []struct {
			beside Cell
			side   side
		}{{Cell{c.X, c.Y - 1}, side{sw, se}}, {se, side{se, ne}}, {nw, side{ne, nw}}, {Cell{c.X - 1, c.Y}, side{nw, sw}}} {
			if !has[one.beside] {
				all = append(all, one.side)
			}
		}
	}
	return all
}

// walk follows the sides from the given one until it returns to it, turning left where squares meet
// in a corner. It returns the rings it followed: when it comes to a corner again, the sides since
// the first visit form a separate ring.
func walk(sides []side, at map[Cell][]int, used []bool, first int) (rings []orb.Ring) {
	var path []Cell
	place := map[Cell]int{}
	for i := first; ; {
		used[i] = true
		corner := sides[i].from
		if k, again := place[corner]; again {
			rings = append(rings, ringOf(path[k:]))
			for _, c := range path[k:] {
				delete(place, c)
			}
			path = path[:k]
		}
		place[corner] = len(path)
		path = append(path, corner)
		next := -1
		for _, k := range at[sides[i].to] {
			if !used[k] && (next < 0 || left(sides[i], sides[k])) {
				next = k
			}
		}
		if next < 0 {
			return append(rings, ringOf(path))
		}
		i = next
	}
}

// left says whether the second side turns left from the first.
func left(from, to side) bool {
	return (from.to.X-from.from.X)*(to.to.Y-to.from.Y)-(from.to.Y-from.from.Y)*(to.to.X-to.from.X) > 0
}

// ringOf closes a path and leaves out corners on a straight side.
func ringOf(path []Cell) orb.Ring {
	var ring orb.Ring
	n := len(path)
	for i, c := range path {
		before, after := path[(i+n-1)%n], path[(i+1)%n]
		if before.X == c.X && c.X == after.X || before.Y == c.Y && c.Y == after.Y {
			continue
		}
		ring = append(ring, orb.Point{float64(c.X), float64(c.Y)})
	}
	return append(ring, ring[0])
}

// signed returns twice the area of a ring, positive when counter-clockwise.
func signed(r orb.Ring) (sum float64) {
	for i := range len(r) - 1 {
		sum += r[i][0]*r[i+1][1] - r[i+1][0]*r[i][1]
	}
	return sum
}

// assemble puts each hole into the smallest exterior that contains it.
func assemble(outer, holes []orb.Ring) orb.MultiPolygon {
	slices.SortStableFunc(outer, func(a, b orb.Ring) int { return cmp.Compare(signed(a), signed(b)) })
	out := make(orb.MultiPolygon, len(outer))
	for i, ring := range outer {
		out[i] = orb.Polygon{ring}
	}
	for _, hole := range holes {
		for i := range out {
			if inside(out[i][0], hole) {
				out[i] = append(out[i], hole)
				break
			}
		}
	}
	return out
}

// inside says whether a hole is in a ring, by a place just inside the hole's first side. A hole
// runs clockwise, so the hole is on the side's right.
func inside(ring, hole orb.Ring) bool {
	a, b := hole[0], hole[1]
	step := func(v float64) float64 { return float64(cmp.Compare(v, 0)) }
	dx, dy := step(b[0]-a[0]), step(b[1]-a[1])
	p := orb.Point{a[0] + dx/2 + dy/2, a[1] + dy/2 - dx/2}
	in := false
	for i := range len(ring) - 1 {
		u, v := ring[i], ring[i+1]
		if (u[1] > p[1]) != (v[1] > p[1]) && u[0] > p[0] { // grid sides: one that crosses is vertical
			in = !in
		}
	}
	return in
}
