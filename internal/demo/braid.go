package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// braid is where the largest river splits into two channels for a while.
type braid struct {
	from, to int         // vertices of the course where it splits and rejoins
	path     []orb.Point // the minor path, downstream
}

// minorShare is the share of the water in the minor path. Our choice.
const minorShare = 0.3

// findBraid looks for a kilometre of river, a fifth of the way up from the mouth, that has no cut and
// has room for a second channel on one side.
func findBraid(r *rand.Rand, c course, cuts []int) braid {
	const vertices, tries = 44, 300
	var b braid
	for step := range tries {
		from := vertexAt(c, 0.27) + step
		to := from + vertices
		if cutBetween(cuts, from, to) {
			continue
		}
		for _, side := range []float64{1, -1} {
			b = braid{from, to, secondPath(r, c, from, to, side)}
			if clearOf(b.path, c.path[from-30:to+30]) {
				return b
			}
		}
	}
	return b
}

func cutBetween(cuts []int, from, to int) bool {
	for _, c := range cuts {
		if c >= from-3 && c <= to+3 {
			return true
		}
	}
	return false
}

// secondPath makes a slightly wavy channel that bows out to one side of the straight line between two
// vertices.
func secondPath(r *rand.Rand, c course, from, to int, side float64) []orb.Point {
	p, q := c.path[from], c.path[to]
	dx, dy := q[0]-p[0], q[1]-p[1]
	long := math.Hypot(dx, dy)
	bow, phase := 0.16*long*(1+0.5*r.Float64()), 2*math.Pi*r.Float64()
	n := int(1.25 * long / vertexStep)
	path := make([]orb.Point, n+1)
	for i := range path {
		t := float64(i) / float64(n)
		out := side * math.Sin(math.Pi*t) * (bow + 22*math.Sin(5*math.Pi*t+phase))
		path[i] = orb.Point{p[0] + t*dx - out*dy/long, p[1] + t*dy + out*dx/long}
	}
	path[0], path[n] = p, q
	return path
}

// clearOf says whether a path keeps its distance from the main one between its ends.
func clearOf(path, main []orb.Point) bool {
	n := len(path) - 1
	for i := 1; i < n; i++ {
		// The room needed grows with the distance from the nearer end.
		if crowded(main, path[i], min(60, 6*float64(min(i, n-i)))) {
			return false
		}
	}
	return true
}

// addBraid marks the main channel and adds the minor one, which leaves the river where the main channel
// begins.
func addBraid(lines []line, c course, b braid) []line {
	for i := range lines {
		if lines[i].path[0] == c.path[b.from] {
			lines[i].branch, lines[i].share = 1, 1-minorShare
		}
	}
	return append(lines, line{
		id: c.code + "-B1", name: c.name, path: b.path, branch: 2, share: minorShare,
	})
}
