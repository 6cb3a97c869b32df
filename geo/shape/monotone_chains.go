package shape

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"sync"

	"github.com/paulmach/orb"
)

// chain is a run of edges of an outline that is monotone in x, left end first. If one of two chains
// lies above the other, they share the area under the lower one: a difference of two stored sums.
// Other pairs are compared edge by edge.
type chain struct {
	at        []orb.Point // relative to a corner of the common box; x ascending
	under     []float64   // by point: area under the chain from its left end to the point
	low, high float64
	sign      float64 // 1 above the area, -1 below it
}

func (c *chain) left() float64  { return c.at[0][0] }
func (c *chain) right() float64 { return c.at[len(c.at)-1][0] }

// longestChain is the largest number of edges in a chain: longer chains are less often completely
// above each other. Our choice: as many as half a circle has.
const longestChain = 32

// within makes the chains of mp that matter inside reach, as topsWithin does for edges.
func (k *chainer) within(mp orb.MultiPolygon, reach orb.Bound) []chain {
	n := vertices(mp)
	n += n / 8 // a vertex between two chains belongs to both
	k.reach, k.points, k.under = reach, slices.Grow(k.points[:0], n), slices.Grow(k.under[:0], n)
	chains := k.chains[:0]
	for _, p := range mp {
		for i, r := range p {
			sign := 1.0
			if (signedArea(r) > 0) != (i == 0) {
				sign = -1
			}
			chains = k.ring(chains, r, sign)
		}
	}
	k.chains = chains
	return chains
}

// chainer cuts rings into chains that share two slices. When a slice grows, the chains made before
// keep the old one.
type chainer struct {
	reach  orb.Bound
	points []orb.Point
	under  []float64
	chains []chain // of the last area
}

// chainers has some whose slices are used again.
var chainers = sync.Pool{New: func() any { return new(chainer) }}

// ring appends the chains of a ring that runs counter-clockwise around its inside, or clockwise for
// sign -1. Vertical edges belong to no chain.
func (k *chainer) ring(chains []chain, r orb.Ring, sign float64) []chain {
	for first := 0; first+1 < len(r); {
		way := cmp.Compare(r[first+1][0], r[first][0])
		last := first + 1
		for last+1 < len(r) && last-first < longestChain && cmp.Compare(r[last+1][0], r[last][0]) == way {
			last++
		}
		if way != 0 {
			if c, ok := k.chain(r[first:last+1], way > 0, sign); ok {
				chains = append(chains, c)
			}
		}
		first = last
	}
	return chains
}

// chain makes a chain from a run of vertices; not ok for one that does not matter.
func (k *chainer) chain(run []orb.Point, rightward bool, sign float64) (chain, bool) {
	first := len(k.points)
	c := chain{sign: sign, low: math.Inf(1), high: math.Inf(-1)}
	for _, p := range run {
		q := orb.Point{p[0] - k.reach.Min[0], p[1] - k.reach.Min[1]}
		c.low, c.high = min(c.low, q[1]), max(c.high, q[1])
		k.points = append(k.points, q)
	}
	c.at = k.points[first:len(k.points):len(k.points)]
	if rightward {
		c.sign = -sign // the area is on the left, so above the chain
	} else {
		slices.Reverse(c.at)
	}
	if c.right() < 0 || c.left() > k.reach.Max[0]-k.reach.Min[0] || c.high < 0 {
		k.points = k.points[:first]
		return c, false
	}
	sum := 0.0
	k.under = append(k.under, sum)
	for i := 1; i < len(c.at); i++ {
		a, b := c.at[i-1], c.at[i]
		sum += (b[0] - a[0]) * (a[1] + b[1]) / 2
		k.under = append(k.under, sum)
	}
	c.under = k.under[first:len(k.under):len(k.under)]
	return c, true
}

// edge returns the number of the edge at x: the edge ends at x or right of it, and begins left of x
// unless it is the first.
func (c *chain) edge(x float64) int {
	low, high := 1, len(c.at)-1
	for low < high {
		if mid := (low + high) / 2; c.at[mid][0] < x {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low - 1
}

// height returns the height of edge i at x.
func (c *chain) height(i int, x float64) float64 {
	a, b := c.at[i], c.at[i+1]
	if x == b[0] {
		return b[1]
	}
	return a[1] + (b[1]-a[1])*((x-a[0])/(b[0]-a[0]))
}

// before returns the area under the chain left of x.
func (c *chain) before(x float64) float64 {
	i := c.edge(x)
	return c.under[i] + (x-c.at[i][0])*(c.at[i][1]+c.height(i, x))/2
}

// sharedUnderChains returns the integral of the lower of p and q over their common x range, which
// must not be empty.
func sharedUnderChains(p, q *chain) float64 {
	left, right := max(p.left(), q.left()), min(p.right(), q.right())
	switch {
	case p.high <= q.low:
		return p.before(right) - p.before(left)
	case q.high <= p.low:
		return q.before(right) - q.before(left)
	}
	i, j, total := p.edge(left), q.edge(left), 0.0
	p0, q0 := p.height(i, left), q.height(j, left)
	for {
		next := min(p.at[i+1][0], q.at[j+1][0], right)
		p1, q1 := p.height(i, next), q.height(j, next)
		total += (next - left) * meanLower(p0, p1, q0, q1)
		if next >= right {
			return total
		}
		if next == p.at[i+1][0] {
			i++
		}
		if next == q.at[j+1][0] {
			j++
		}
		left, p0, q0 = next, p1, q1
	}
}

// sharedByChains returns the sum, over pairs of chains, of the area under both. It sorts others.
func sharedByChains(chains, others []chain) float64 {
	slices.SortFunc(others, func(p, q chain) int { return cmp.Compare(p.left(), q.left()) })
	widest, total := 0.0, 0.0
	for i := range others {
		widest = max(widest, others[i].right()-others[i].left())
	}
	for i := range chains {
		p := &chains[i]
		left, right := p.left(), p.right()
		first := sort.Search(len(others), func(k int) bool { return others[k].left() >= left-widest })
		for k := first; k < len(others) && others[k].left() < right; k++ {
			if q := &others[k]; q.right() > left {
				total += p.sign * q.sign * sharedUnderChains(p, q)
			}
		}
	}
	return total
}
