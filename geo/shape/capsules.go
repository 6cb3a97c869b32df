package shape

import (
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"

	"driftreach/geo/disjoint"
)

// capsule is one segment of a line with all places within r of it. Its sides are elements 2i, on
// the right from node a to node b, and 2i+1, on the right from b to a.
type capsule struct {
	a, b    int32   // nodes
	line    int32   // index of the line it comes from
	ux, uy  float64 // direction from a to b
	length  float64 // 0 for a line of one place
	r       float64
	natural [2]link // of its sides
}

// link gives the elements before and after a side where nothing covers its ends.
type link struct{ from, to int32 }

// capsules is a set of lines divided into segments. Its elements are the sides, then one circle for
// each node. The outline is the part of them that no capsule covers.
type capsules struct {
	origin   orb.Point
	nodes    []circle
	capsules []capsule
	joints   []joint // by node
	nodeLine []int32 // a line through each node
	hidden   []bool  // by node: known to be covered; nil where not known
	grid     capsuleGrid
	thick    func() *quadtree // made on first use
	parent   disjoint.Shared
	room     *capsuleRoom
}

// capsuleRoom has slices to be used again: the pieces of an outline, a ring and its bends.
type capsuleRoom struct {
	arcs  []arc
	ring  orb.Ring
	bends []bend
}

var capsuleRooms = sync.Pool{New: func() any { return new(capsuleRoom) }}

// done lets go of the capsules' memory: neither they nor their pieces may be used again.
func (s *capsules) done() { capsuleRooms.Put(s.room) }

// joint is the arc about a node that the node's own capsules leave open; none when start equals
// end.
type joint struct {
	start, end float64
	from, to   int32
}

// straight is the turn at a node below which the line counts as straight, radians. Our choice: 3
// micrometres sideways at 30 m.
const straight = 1e-7

// newCapsules divides the lines, each with its radius, into capsules. Equal segments count once.
// Places and radii that are not finite, and radii that are not positive, are ignored.
func newCapsules(lines []orb.LineString, radius []float64) *capsules {
	s := &capsules{room: capsuleRooms.Get().(*capsuleRoom)}
	s.parent = disjoint.NewShared(len(lines))
	s.cut(lines, radius)
	s.join()
	s.grid = newCapsuleGrid(s)
	s.thick = sync.OnceValue(func() *quadtree { return newQuadtree(s) })
	return s
}

func (s *capsules) side(i, way int32) int32 { return 2*i + way }
func (s *capsules) circle(node int32) int32 { return int32(2*len(s.capsules)) + node }
func (s *capsules) elements() int           { return 2*len(s.capsules) + len(s.nodes) }

// cut fills in nodes and capsules.
func (s *capsules) cut(lines []orb.LineString, radius []float64) {
	s.origin = lowestCorner(lines)
	places := 0
	for _, line := range lines {
		places += len(line)
	}
	node := make(map[circle]int32, places)
	seen := make(map[[2]int32]bool, places)
	s.nodes, s.nodeLine, s.capsules = make([]circle, 0, places), make([]int32, 0, places), make([]capsule, 0, places)
	for i, line := range lines {
		if !(radius[i] > 0) || math.IsInf(radius[i], 0) {
			continue
		}
		last := int32(-1)
		parts := 0
		for _, p := range line {
			if !finite(p) {
				continue
			}
			key := circle{onGrid(p[0] - s.origin[0]), onGrid(p[1] - s.origin[1]), radius[i]}
			at, known := node[key]
			if !known {
				at = int32(len(s.nodes))
				node[key] = at
				s.nodes = append(s.nodes, key)
				s.nodeLine = append(s.nodeLine, int32(i))
			}
			s.parent.Union(int32(i), s.nodeLine[at])
			pair := [2]int32{min(last, at), max(last, at)}
			if last >= 0 && last != at {
				parts++
				if !seen[pair] {
					seen[pair] = true
					s.add(last, at, int32(i))
				}
			}
			last = at
		}
		if last >= 0 && parts == 0 {
			s.add(last, last, int32(i))
		}
	}
}

// nodeGrid is the raster on which nodes are placed, metres: 2^-20, about a micrometre. Our choice:
// far below any survey, far above the rounding of directions between nodes; whole numbers stay
// unchanged.
const nodeGrid = 1.0 / (1 << 20)

func onGrid(v float64) float64 { return math.Round(v/nodeGrid) * nodeGrid }

// lowestCorner returns a place in whole metres below and left of all lines. It does not depend on
// their order.
func lowestCorner(lines []orb.LineString) orb.Point {
	least := orb.Point{math.Inf(1), math.Inf(1)}
	for _, l := range lines {
		for _, p := range l {
			if finite(p) {
				least = orb.Point{min(least[0], math.Floor(p[0])), min(least[1], math.Floor(p[1]))}
			}
		}
	}
	return least
}

func (s *capsules) add(a, b, line int32) {
	p, q := s.nodes[a], s.nodes[b]
	dx, dy := q.x-p.x, q.y-p.y
	t := capsule{a: a, b: b, line: line, ux: 1, r: p.r}
	if a != b {
		t.length = math.Hypot(dx, dy)
		t.ux, t.uy = dx/t.length, dy/t.length
	}
	s.capsules = append(s.capsules, t)
}

// way is a side that starts at a node, with its direction.
type way struct {
	angle float64
	side  int32
}

// join finds each node's joint and the links of the sides around it.
func (s *capsules) join() {
	s.joints = make([]joint, len(s.nodes))
	first := make([]int32, len(s.nodes)+1)
	for _, t := range s.capsules {
		if t.length > 0 {
			first[t.a+1]++
			first[t.b+1]++
		}
	}
	for i := range s.nodes {
		first[i+1] += first[i]
	}
	ways := make([]way, first[len(s.nodes)])
	fill := slices.Clone(first)
	for i, t := range s.capsules {
		if t.length > 0 {
			ways[fill[t.a]] = way{math.Atan2(t.uy, t.ux), s.side(int32(i), 0)}
			ways[fill[t.b]] = way{math.Atan2(-t.uy, -t.ux), s.side(int32(i), 1)}
			fill[t.a]++
			fill[t.b]++
		}
	}
	for i := range s.nodes {
		s.joinAt(int32(i), ways[first[i]:first[i+1]])
	}
}

// joinAt handles one node.
func (s *capsules) joinAt(node int32, ways []way) {
	self := s.circle(node)
	if len(ways) == 0 {
		s.joints[node] = joint{0, 2 * math.Pi, self, self}
		return
	}
	slices.SortFunc(ways, func(a, b way) int {
		if a.angle != b.angle {
			if a.angle < b.angle {
				return -1
			}
			return 1
		}
		return int(a.side - b.side)
	})
	for k, w := range ways {
		after := ways[(k+1)%len(ways)]
		if k+1 == len(ways) {
			after.angle += 2 * math.Pi
		}
		in, out := w.side^1, after.side
		if after.angle-w.angle > math.Pi+straight {
			s.joints[node] = joint{w.angle + math.Pi/2, after.angle - math.Pi/2, in, out}
			s.capsules[in/2].natural[in%2].to = self
			s.capsules[out/2].natural[out%2].from = self
			continue
		}
		s.capsules[in/2].natural[in%2].to = out
		s.capsules[out/2].natural[out%2].from = in
	}
}
