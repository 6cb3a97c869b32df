package shape

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"
)

// chain is a run of edges of an outline that goes one way in x, left end first.
// Two chains of which one lies above the other share what is under the lower, a
// difference of two sums kept; others are gone along side by side.
type chain struct {
	at        []orb.Point // about the corner of the box looked at; x ascending
	under     []float64   // what is under the chain from its left end to each point
	low, high float64
	sign      float64 // 1 above the area, -1 below it
}

func (c *chain) left() float64  { return c.at[0][0] }
func (c *chain) right() float64 { return c.at[len(c.at)-1][0] }

// longestChain is how many edges a chain has at most: longer ones lie above each
// other less often. Our choice: half a circle's.
const longestChain = 32

// chainsWithin returns the chains of mp that matter inside reach, as topsWithin
// does.
func chainsWithin(mp orb.MultiPolygon, reach orb.Bound) []chain {
	var chains []chain
	n := vertices(mp)
	n += n / 8 // a vertex between two chains is in both
	k := chainer{reach: reach, points: make([]orb.Point, 0, n), under: make([]float64, 0, n)}
	for _, p := range mp {
		for i, r := range p {
			sign := 1.0
			if (signedArea(r) > 0) != (i == 0) {
				sign = -1
			}
			chains = k.ring(chains, r, sign)
		}
	}
	return chains
}

// chainer cuts rings into chains that share two slices. One that grows leaves the
// chains made so far with the old one.
type chainer struct {
	reach  orb.Bound
	points []orb.Point
	under  []float64
}

// ring appends the chains of a ring that runs counter-clockwise about what is
// inside, or clockwise for sign -1. Upright edges are in none.
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

// chain makes a chain of a run of vertices, not ok for one that does not matter.
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
		c.sign = -sign // the area is to the left of the way, above
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

// edge returns the number of the edge that x is over: it ends there or further
// right, and begins further left unless it is the first.
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

// before returns what is under the chain to the left of x.
func (c *chain) before(x float64) float64 {
	i := c.edge(x)
	return c.under[i] + (x-c.at[i][0])*(c.at[i][1]+c.height(i, x))/2
}

// sharedUnderChains returns the integral of the lower of p and q over the x they
// share, which must not be none.
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

// sharedByChains returns the sum over pairs of chains of what both have under
// them. It sorts others.
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
