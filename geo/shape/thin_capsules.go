package shape

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"
)

const (
	// crowdAtLeast is the number of crowded capsules from which thinning pays. Our choice.
	crowdAtLeast = 1024
	// samplePart: one in this many capsules of a crowd is tried for covering the whole crowd. Our
	// choice.
	samplePart = 8
)

// thinned returns the capsules without those that are completely covered by others, where many
// crowd together; s itself where that removes few. The covered ground stays the same within
// touchTolerance.
//
// A random part of a crowd is thinned first. A capsule that the outline of this part does not
// enter, and that has one place covered by the part, is covered completely (Clarkson and Shor 1989,
// Discrete and Computational Geometry 4, 387-421: few of the others meet the outline of a random
// part). Near linear in the capsules.
func (s *capsules) thinned(workers int) *capsules {
	crowd := s.crowd()
	kept := s.thin(crowd, workers)
	if 2*len(kept) >= len(crowd) { // also true without a crowd
		return s
	}
	drop := make([]bool, len(s.capsules))
	for _, i := range crowd {
		drop[i] = true
	}
	for _, i := range kept {
		drop[i] = false
	}
	rest := make([]int32, 0, len(s.capsules))
	for i := range s.capsules {
		if !drop[i] {
			rest = append(rest, int32(i))
		}
	}
	return newCapsules(s.segments(rest))
}

// crowd returns the capsules in grid cells with very many capsules.
func (s *capsules) crowd() []int32 {
	found := make([]bool, len(s.capsules))
	for c := range s.grid.columns * s.grid.rows {
		if items := s.grid.items[s.grid.first[c]:s.grid.first[c+1]]; len(items) > crowded {
			for _, i := range items {
				found[i] = true
			}
		}
	}
	var out []int32
	for i, in := range found {
		if in {
			out = append(out, int32(i))
		}
	}
	return out
}

func (s *capsules) everyCapsule() []int32 {
	out := make([]int32, len(s.capsules))
	for i := range out {
		out[i] = int32(i)
	}
	return out
}

// segments returns capsules as lines of two places, with their radii.
func (s *capsules) segments(of []int32) ([]orb.LineString, []float64) {
	lines, radius := make([]orb.LineString, len(of)), make([]float64, len(of))
	place := func(node int32) orb.Point {
		return orb.Point{s.nodes[node].x + s.origin[0], s.nodes[node].y + s.origin[1]}
	}
	for k, i := range of {
		t := s.capsules[i]
		lines[k], radius[k] = orb.LineString{place(t.a), place(t.b)}, t.r
	}
	return lines, radius
}

// thin returns capsules of a crowd that cover all the ground the crowd covers, in order.
func (s *capsules) thin(crowd []int32, workers int) []int32 {
	if len(crowd) < crowdAtLeast {
		return crowd
	}
	order := slices.Clone(crowd)
	// a fixed seed: the order must only differ from that of the lines
	rand.New(rand.NewPCG(2, uint64(len(crowd)))).Shuffle(len(order), func(i, k int) { order[i], order[k] = order[k], order[i] })
	n := len(order) / samplePart
	kept := s.thin(order[:n], workers)
	part := newCapsules(s.segments(kept))
	arcs, ok := part.exposed(workers)
	if !ok {
		return crowd
	}
	outline := part.index(arcs)
	moved := orb.Point{s.origin[0] - part.origin[0], s.origin[1] - part.origin[1]}
	needed := make([]bool, len(order))
	pieces := (len(order) + chunk - 1) / chunk
	each(pieces, workers, func(c int) {
		w := &capsuleScratch{mark: make([]int32, len(part.capsules))}
		for k := max(n, c*chunk); k < min(len(order), (c+1)*chunk); k++ {
			t := s.capsules[order[k]]
			a, b := s.nodes[t.a], s.nodes[t.b]
			p := segment{orb.Point{a.x + moved[0], a.y + moved[1]}, orb.Point{b.x + moved[0], b.y + moved[1]}}
			needed[k] = !part.covers(w, p.a) || outline.comesInto(p, t.r-touchTolerance)
		}
	})
	for k, i := range order {
		if needed[k] {
			kept = append(kept, i)
		}
	}
	slices.Sort(kept)
	return kept
}

// covers reports whether any capsule covers a place.
func (s *capsules) covers(w *capsuleScratch, at orb.Point) bool {
	for _, i := range w.near(&s.grid, box{at[0], at[1], at[0], at[1]}) {
		t := &s.capsules[i]
		x, y := at[0]-s.nodes[t.a].x, at[1]-s.nodes[t.a].y
		v := min(max(x*t.ux+y*t.uy, 0), t.length)
		if math.Hypot(x-v*t.ux, y-v*t.uy) < t.r {
			return true
		}
	}
	return false
}

// outline is the pieces of an outline, indexed by their boxes.
type outline struct {
	tree   rtree.RTreeGN[float64, int32]
	pieces []piece
}

// piece is a side, or, where of is a circle, an arc from one angle to another.
type piece struct {
	segment
	of         circle
	start, end float64
}

type segment struct{ a, b orb.Point }

func (s *capsules) index(arcs []arc) *outline {
	o := &outline{}
	for _, a := range arcs {
		p := piece{segment: segment{a.first, a.last}}
		bound := orb.MultiPoint{a.first, a.last}.Bound()
		if node := a.circle - s.circle(0); node >= 0 {
			p.of, p.start, p.end = s.nodes[node], a.start, a.end
			mid, half := p.of.around(a.start, a.end)
			bound = orb.Bound{Min: mid, Max: mid}.Pad(half)
		}
		o.tree.Insert(bound.Min, bound.Max, int32(len(o.pieces)))
		o.pieces = append(o.pieces, p)
	}
	return o
}

// comesInto reports whether any of the outline is nearer than r to a segment.
func (o *outline) comesInto(s segment, r float64) bool {
	bound := orb.MultiPoint{s.a, s.b}.Bound().Pad(r)
	found := false
	o.tree.Search(bound.Min, bound.Max, func(_, _ [2]float64, k int32) bool {
		found = o.pieces[k].distance(s) < r
		return !found
	})
	return found
}

// distance returns the distance between a piece and a segment. It is attained at an end of either,
// where they cross or, on an arc, where the arc runs parallel to the segment.
func (p piece) distance(s segment) float64 {
	least := min(s.distance(p.a), s.distance(p.b))
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	if p.of.r == 0 {
		if p.crosses(s) {
			return 0
		}
		return min(least, p.segment.distance(s.a), p.segment.distance(s.b))
	}
	try := func(x, y float64) {
		angle := math.Atan2(y, x)
		if math.Mod(angle-p.start+8*math.Pi, 2*math.Pi) <= p.end-p.start {
			least = min(least, s.distance(p.of.at(stop{angle, p.of.r})))
		}
	}
	ax, ay := s.a[0]-p.of.x, s.a[1]-p.of.y
	try(ax, ay)
	try(s.b[0]-p.of.x, s.b[1]-p.of.y)
	length := math.Hypot(dx, dy)
	if length == 0 {
		return least
	}
	dx, dy = dx/length, dy/length
	try(dy, -dx)
	try(-dy, dx)
	along, across := -(ax*dx + ay*dy), dx*ay-dy*ax
	if rest := (p.of.r - across) * (p.of.r + across); rest >= 0 {
		for _, h := range [2]float64{math.Sqrt(rest), -math.Sqrt(rest)} {
			try(ax+(along+h)*dx, ay+(along+h)*dy)
		}
	}
	return least
}

func (s segment) distance(p orb.Point) float64 {
	dx, dy, x, y := s.b[0]-s.a[0], s.b[1]-s.a[1], p[0]-s.a[0], p[1]-s.a[1]
	v := 0.0
	if square := dx*dx + dy*dy; square > 0 {
		v = min(max((x*dx+y*dy)/square, 0), 1)
	}
	return math.Hypot(x-v*dx, y-v*dy)
}

// crosses reports whether the ends of each segment are on different sides of the other.
func (s segment) crosses(o segment) bool {
	side := func(s segment, p orb.Point) bool {
		return (s.b[0]-s.a[0])*(p[1]-s.a[1]) > (s.b[1]-s.a[1])*(p[0]-s.a[0])
	}
	return side(s, o.a) != side(s, o.b) && side(o, s.a) != side(o, s.b)
}
