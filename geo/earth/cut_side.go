package earth

import (
	"cmp"
	"slices"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// chain is a run of a ring west of the cut, between the crossings where it enters and leaves.
type chain struct {
	points  []orb.Point // both ends are on the cut
	in, out int         // crossings
	used    bool
}

// crossing is a place where a ring meets the cut, as seen from just west of it.
type crossing struct {
	lat, slope float64
	east       bool // the ring leaves to the east here
	chain      int  // the chain that ends (east) or starts here
	partner    int  // crossing at the other end of the stretch of cut inside the polygon
}

// westOf returns the pieces of p west of a meridian. A vertex on the meridian counts as east of it,
// so that every ring crosses an even number of times and pieces that only touch stay separate.
// Rings must be closed, the outer one counter-clockwise, holes clockwise.
func westOf(p orb.Polygon, lon float64) orb.MultiPolygon {
	var cut cutting
	var loose []orb.Ring
	for i, r := range p {
		west, east := lonRange(r)
		switch {
		case i > 0 && east <= lon && touches(r, lon) <= 1:
			loose = append(loose, r)
		case west < lon:
			cut.add(r[:len(r)-1], lon)
		}
	}
	cut.pair()
	pieces := cut.rings()
	for _, hole := range loose {
		if i := holder(pieces, hole); i >= 0 {
			pieces[i] = append(pieces[i], hole)
		}
	}
	return pieces
}

// touches returns how many vertices of a closed ring are on a meridian. A hole that touches the cut
// once stays a hole; one that touches it more often becomes part of the outline.
func touches(r orb.Ring, lon float64) (n int) {
	for _, v := range r[:len(r)-1] {
		if v[0] == lon {
			n++
		}
	}
	return n
}

// cutting gathers the chains and crossings of all rings of a polygon.
type cutting struct {
	chains    []chain
	crossings []crossing
}

// add breaks an open ring, part of it west of lon, into chains.
func (c *cutting) add(r orb.Ring, lon float64) {
	n := len(r)
	start := slices.IndexFunc(r, func(v orb.Point) bool { return v[0] >= lon })
	if start < 0 {
		return
	}
	var run []orb.Point // the chain being built; nil while east
	for k := 1; k <= n; k++ {
		a, b := r[(start+k-1)%n], r[(start+k)%n]
		aWest, bWest := a[0] < lon, b[0] < lon
		if aWest != bWest {
			at := orb.Point{lon, latitudeAt(a, b, lon)}
			c.crossings = append(c.crossings, crossing{
				lat: at[1], slope: (b[1] - a[1]) / (b[0] - a[0]), east: aWest, chain: len(c.chains),
			})
			last := len(c.crossings) - 1
			if bWest {
				run = []orb.Point{at}
			} else {
				run = appendNew(run, at)
				c.chains = append(c.chains, chain{points: run, in: last - 1, out: last})
			}
		}
		if bWest {
			run = append(run, b)
		}
	}
}

// pair joins crossings, from south to north along the cut, into the stretches inside the polygon.
func (c *cutting) pair() {
	order := make([]int, len(c.crossings))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		a, b := c.crossings[i], c.crossings[j]
		return cmp.Or(cmp.Compare(a.lat, b.lat), cmp.Compare(b.slope, a.slope), cmp.Compare(i, j))
	})
	// a stack, so that even rings that do cross give closed pieces
	var open []int
	for _, i := range order {
		if n := len(open); n > 0 && c.crossings[open[n-1]].east != c.crossings[i].east {
			j := open[n-1]
			c.crossings[i].partner, c.crossings[j].partner = j, i
			open = open[:n-1]
			continue
		}
		open = append(open, i)
	}
}

// rings joins chains and stretches of the cut into closed rings, one polygon each. Pieces without
// area are left out.
func (c *cutting) rings() orb.MultiPolygon {
	var out orb.MultiPolygon
	for i := range c.chains {
		var ring orb.Ring
		for j := i; !c.chains[j].used; {
			c.chains[j].used = true
			for _, v := range c.chains[j].points {
				ring = appendNew(ring, v)
			}
			j = c.crossings[c.crossings[c.chains[j].out].partner].chain
		}
		if len(ring) < 3 {
			continue
		}
		ring = appendNew(ring, ring[0])
		if geo.RingArea(ring) != 0 {
			out = append(out, orb.Polygon{ring})
		}
	}
	return out
}

// holder returns the index of the piece that contains a hole, or -1.
func holder(pieces orb.MultiPolygon, hole orb.Ring) int {
	if len(pieces) == 1 {
		return 0
	}
	best, most := -1, 0
	for i, p := range pieces {
		inside := 0
		for _, v := range hole {
			if contains(p[0], v) {
				inside++
			}
		}
		// a vertex may touch the neighbouring piece: the majority decides
		if inside > most {
			best, most = i, inside
		}
	}
	return best
}

// contains reports whether v lies inside a ring of plain coordinates, by the
// even-odd rule.
func contains(r orb.Ring, v orb.Point) bool {
	in := false
	for i := 1; i < len(r); i++ {
		a, b := r[i-1], r[i]
		if (a[1] > v[1]) != (b[1] > v[1]) && v[0] < a[0]+(v[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}
