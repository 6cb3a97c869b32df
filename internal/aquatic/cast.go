package aquatic

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/stream"
)

// caster collects the strips of bank along which one stand lies.
type caster struct {
	*Banks
	*view
	strips []Strip
}

// disc adds the strips beside a disc.
func (c *caster) disc(p *patch) {
	w, r, d := c.Banks.w, float64(p.Radius), float64(p.middle)
	beyond := d - float64(w.reach(p.edge)) // distance of the disc's middle outside the zone
	if p.shore > 0 {
		beyond = float64(p.bank+p.Radius) - float64(w.setback)
	}
	width := r
	if beyond > 0 {
		width = math.Sqrt(max(0, r*r-beyond*beyond))
	}
	at := c.spotOf(p)
	c.add(at, width)
	if at.Shore < 0 && d < r {
		at.Side = Right - at.Side
		c.add(at, math.Sqrt(r*r-d*d))
	}
}

// spot is a place on a bank.
type spot struct {
	Edge  int32
	Side  Side
	Shore int32
	At    geo.Meters
}

// spotOf returns the place on a bank to which a patch belongs. lay must have run for the patch.
func (c *caster) spotOf(p *patch) spot {
	if p.shore > 0 && c.net().Surfaces[p.shore-1].Kind == stream.Lake {
		degrees := c.frame.Inverse(p.Center)
		if near, found := c.ashore.Nearest(degrees); found {
			measures := c.around[near.Line]
			at := measures[near.Segment] + geo.Meters(near.Fraction)*(measures[near.Segment+1]-measures[near.Segment])
			return spot{Edge: -1, Shore: near.Line, At: geo.Meters(at)}
		}
	}
	on := c.edge(p.edge)
	path, measures := on.path, on.measures
	i := min(int(p.segment), len(path)-2)
	a, z := c.frame.Forward(path[i]), c.frame.Forward(path[i+1])
	side := Right
	if (z[0]-a[0])*(p.Center[1]-a[1])-(z[1]-a[1])*(p.Center[0]-a[0]) > 0 {
		side = Left
	}
	at := measures[i] + geo.Meters(p.along)*(measures[i+1]-measures[i])
	return spot{Edge: p.edge, Side: side, Shore: -1, At: c.offset(p.edge, at)}
}

func (c *caster) net() *stream.Network { return c.Banks.w.net }

// offset converts metres along the drawn path of an edge into metres of the edge's recorded length.
func (b *Banks) offset(edge int32, at geo.Meters) geo.Meters {
	e := &b.w.net.Net.Edges[edge]
	if span := e.End - e.Start; span > 0 {
		at *= e.Length / span
	}
	return min(at, e.Length)
}

// add adds a strip that reaches half to each side of a spot.
func (c *caster) add(at spot, half float64) {
	c.between(at, at.At-geo.Meters(half), at.At+geo.Meters(half))
}

// between adds a strip on the bank of a spot, cut where the edge ends. The rest continues on the
// next edge, or around the shore.
func (c *caster) between(at spot, from, to geo.Meters) {
	one := Strip{Edge: at.Edge, Side: at.Side, Shore: at.Shore, From: max(0, from), To: to}
	if at.Shore >= 0 {
		whole := c.around[at.Shore][len(c.around[at.Shore])-1]
		if to-from >= whole {
			from, to = 0, whole
		}
		one.From, one.To = max(0, from), min(to, whole)
		c.keep(one)
		one.From, one.To = from+whole, whole
		if from < 0 {
			c.keep(one)
		}
		one.From, one.To = 0, to-whole
		if to > whole {
			c.keep(one)
		}
		return
	}
	net := c.net().Net
	edge := &net.Edges[at.Edge]
	one.To = min(to, edge.Length)
	c.keep(one)
	if in := net.In(edge.From); from < 0 && len(in) == 1 && len(net.Out(edge.From)) == 1 && in[0] != at.Edge {
		length := net.Edges[in[0]].Length
		c.keep(Strip{in[0], at.Side, -1, max(0, length+from), length})
	}
	if out := net.Out(edge.To); to > edge.Length && len(out) == 1 && len(net.In(edge.To)) == 1 && out[0] != at.Edge {
		c.keep(Strip{out[0], at.Side, -1, 0, min(to-edge.Length, net.Edges[out[0]].Length)})
	}
}

func (c *caster) keep(s Strip) {
	if s.To > s.From {
		c.strips = append(c.strips, s)
	}
}

// The steps in which a drawn outline is sampled. Our choice: positions are good to a metre at best;
// an outline gets at most mostLooks samples.
const (
	stepOfOutline = 1
	mostLooks     = 20000
	// mostJump is the largest distance along the bank, in steps, between two neighbouring samples of
	// one strip. Our choice: on the inside of a bend samples move closer together, on the outside
	// apart.
	mostJump = 8
)

// outline adds the strips beside a drawn outline.
func (c *caster) outline(p *patch) {
	length := 0.0
	for _, polygon := range p.outline {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				length += math.Hypot(ring[i][0]-ring[i-1][0], ring[i][1]-ring[i-1][1])
			}
		}
	}
	step := max(stepOfOutline, length/mostLooks)
	for _, polygon := range p.outline {
		for _, ring := range polygon {
			c.ring(orb.LineString(ring), step)
		}
	}
	c.inside(p.outline, step)
}

// ring adds the strips beside one ring of an outline.
func (c *caster) ring(ring orb.LineString, step float64) {
	var last spot
	known := false
	eachPlanar(ring, step, func(xy orb.Point, _ int, _ float64) {
		q := patch{Disc: shape.Disc{Center: xy}}
		if !c.lay(&q) || q.bank > c.Banks.w.setback {
			known = false
			return
		}
		at := c.spotOf(&q)
		apart := at.At - last.At
		if known && at.Edge == last.Edge && at.Side == last.Side && at.Shore == last.Shore && math.Abs(float64(apart)) <= mostJump*step {
			c.between(at, min(at.At, last.At), max(at.At, last.At))
		} else {
			c.add(at, step/2)
		}
		last, known = at, true
	})
}

// inside adds both banks of the centerlines inside an outline, and the lake shores inside it.
func (c *caster) inside(outline orb.MultiPolygon, step float64) {
	box := outline.Bound()
	within := func(xy orb.Point) bool { return box.Contains(xy) && shape.Contains(outline, xy) }
	around := box.Pad(step) // more than rounding
	for k := range c.water {
		ch := &c.water[k]
		if on := c.net().On[ch.edge]; on >= 0 && c.net().Surfaces[on].Kind == stream.Lake {
			continue
		}
		measures := c.edge(ch.edge).measures
		eachPlanarIn(around, ch.xy, step, func(xy orb.Point, i int, along float64) {
			if !within(xy) {
				return
			}
			i += int(ch.first)
			at := spot{Edge: ch.edge, Shore: -1, At: c.offset(ch.edge, measures[i]+geo.Meters(along)*(measures[i+1]-measures[i]))}
			for at.Side = range Right + 1 {
				c.add(at, step/2)
			}
		})
	}
	for _, run := range c.ashore.Near(c.center, c.radius) {
		measures := c.around[run.Line]
		eachPlanarIn(around, c.frame.ProjectLine(c.rings[run.Line][run.First:run.Last+1]), step, func(xy orb.Point, i int, along float64) {
			if i += int(run.First); within(xy) {
				c.add(spot{Edge: -1, Shore: run.Line, At: measures[i] + geo.Meters(along)*(measures[i+1]-measures[i])}, step/2)
			}
		})
	}
}

// eachPlanar calls look with places on a line, at most a step apart, with the segment of each and
// the fraction along it.
func eachPlanar(line orb.LineString, step float64, look func(xy orb.Point, segment int, along float64)) {
	far := math.Inf(1)
	eachPlanarIn(orb.Bound{Min: orb.Point{-far, -far}, Max: orb.Point{far, far}}, line, step, look)
}

// eachPlanarIn is eachPlanar for the places in a box, but for rounding, and some beside it. A stand of
// many drawn outlines may lie along many kilometres of stream, and each asks only about its own.
func eachPlanarIn(box orb.Bound, line orb.LineString, step float64, look func(xy orb.Point, segment int, along float64)) {
	for i := range len(line) - 1 {
		a, z := line[i], line[i+1]
		from, to := spanIn(box, a, z)
		if from > to {
			continue
		}
		n := max(1, math.Ceil(math.Hypot(z[0]-a[0], z[1]-a[1])/step))
		for k, end := math.Floor(from*n), min(n, math.Ceil(to*n)+1); k < end; k++ {
			t := k / n
			look(orb.Point{a[0] + t*(z[0]-a[0]), a[1] + t*(z[1]-a[1])}, i, t)
		}
	}
	if n := len(line); n > 1 {
		look(line[n-1], n-2, 1)
	}
}

// spanIn returns from and up to which fraction of the segment from a to z it lies in a box; from is
// above to where it does not (Liang and Barsky 1984).
func spanIn(box orb.Bound, a, z orb.Point) (from, to float64) {
	to = 1
	for axis := range 2 {
		d, low, high := z[axis]-a[axis], box.Min[axis]-a[axis], box.Max[axis]-a[axis]
		switch {
		case d > 0:
			from, to = max(from, low/d), min(to, high/d)
		case d < 0:
			from, to = max(from, high/d), min(to, low/d)
		case low > 0 || high < 0:
			return 1, 0
		}
	}
	return from, to
}
