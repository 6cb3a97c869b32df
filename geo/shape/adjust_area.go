package shape

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"
)

// adjustArea moves vertices of rings on a grid of 1/perUnit until the area has grown by wanted
// square steps, as nearly as possible. A vertex may move to the grid line on the other side of its
// exact place, or either way where the exact place is not known; fixed vertices stay. First come,
// in order, the moves that bring the area nearer without going past, then the few moves that
// together leave the smallest rest. If the rest is large, because only long sides can still move
// that way, one of them moves past the goal and others make up for it.
func adjustArea(mp, exact orb.MultiPolygon, perUnit float64, fixed map[orb.Point]bool, wanted float64) {
	rings := movedRings(mp, exact, perUnit)
	if wanted = approach(rings, fixed, wanted); math.Abs(wanted) <= closeEnough {
		return
	}
	room := stepRooms.Get().(*stepRoom)
	defer room.done()
	all := room.steps(rings, fixed)
	last, left := leastLeft(all, wanted)
	if left > closeEnough {
		past := slices.IndexFunc(all, func(m vertexStep) bool { return m.gain > max(0, wanted) })
		if wanted < 0 {
			past = slices.IndexFunc(all, func(m vertexStep) bool { return m.gain >= wanted }) - 1
		}
		if past >= 0 {
			one := all[past]
			one.make()
			wanted = approach(rings, fixed, wanted-one.gain)
			last, _ = leastLeft(room.steps(rings, fixed), wanted)
		}
	}
	for _, m := range last {
		m.make()
	}
}

// approach moves vertices, in order, wherever that brings the area nearer to the goal without going
// past it. It returns the area still wanted.
func approach(rings []*movedRing, fixed map[orb.Point]bool, wanted float64) float64 {
	for _, r := range rings {
		for v := 0; v+1 < len(r.ring); v++ {
			for axis := range 2 {
				gain, step := r.gain(v, axis), 1.0
				if gain == 0 || math.Abs(gain) > math.Abs(wanted) {
					continue
				}
				if gain*wanted < 0 {
					gain, step = -gain, -1
				}
				if r.may(v, axis, step) && !(len(fixed) > 0 && fixed[r.ring[v]]) {
					vertexStep{r, v, axis, step, gain}.make()
					wanted -= gain
				}
			}
		}
	}
	return wanted
}

// stepRoom has slices to be used again.
type stepRoom struct {
	all, sorted []vertexStep
	order       []int32
}

var stepRooms = sync.Pool{New: func() any { return new(stepRoom) }}

// done lets go of the rings, and keeps the slices for the next.
func (room *stepRoom) done() {
	clear(room.all)
	clear(room.sorted)
	stepRooms.Put(room)
}

// steps returns the steps that vertices may take, sorted by gain. They are valid until it is called
// again.
func (room *stepRoom) steps(rings []*movedRing, fixed map[orb.Point]bool) []vertexStep {
	all := room.all[:0]
	for _, r := range rings {
		for v := 0; v+1 < len(r.ring); v++ {
			for axis := range 2 {
				all = r.steps(all, fixed, v, axis)
			}
		}
	}
	order := slices.Grow(room.order[:0], len(all))[:len(all)] // faster to sort than the steps themselves
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Or(cmp.Compare(all[a].gain, all[b].gain), cmp.Compare(a, b)) })
	sorted := room.sorted[:0]
	for _, k := range order {
		sorted = append(sorted, all[k])
	}
	room.all, room.order, room.sorted = all, order, sorted
	return sorted
}

// movedRing is a ring whose vertices may move.
type movedRing struct {
	ring    orb.Ring
	exact   orb.Ring // exact places of its vertices, in units; nil where not known
	perUnit float64  // grid steps per unit
	sign    float64  // 1 where its own signed area counts towards the whole, -1 where it counts against it
}

func movedRings(mp, exact orb.MultiPolygon, perUnit float64) []*movedRing {
	var out []*movedRing
	for i, p := range mp {
		for k, r := range p {
			one := &movedRing{ring: r, perUnit: perUnit, sign: 1}
			if (signedArea(r) > 0) != (k == 0) {
				one.sign = -1
			}
			if exact != nil {
				one.exact = exact[i][k]
			}
			out = append(out, one)
		}
	}
	return out
}

// vertexStep is a move of one vertex by one step.
type vertexStep struct {
	of      *movedRing
	v, axis int
	step    float64
	gain    float64 // of area, in square steps
}

// steps appends the steps that a vertex may take along an axis.
func (r *movedRing) steps(all []vertexStep, fixed map[orb.Point]bool, v, axis int) []vertexStep {
	if len(fixed) > 0 && fixed[r.ring[v]] {
		return all
	}
	gain := r.gain(v, axis)
	if gain == 0 {
		return all
	}
	for _, step := range [2]float64{1, -1} {
		if r.may(v, axis, step) {
			all = append(all, vertexStep{r, v, axis, step, step * gain})
		}
	}
	return all
}

// gain returns by how much the area grows when a vertex moves one step up along an axis.
func (r *movedRing) gain(v, axis int) float64 {
	before, after := &r.ring[len(r.ring)-2], &r.ring[v+1]
	if v > 0 {
		before = &r.ring[v-1]
	}
	if axis == 1 {
		return r.sign * (before[0] - after[0]) / 2
	}
	return r.sign * (after[1] - before[1]) / 2
}

// may says whether a vertex may take a step along an axis: to the other side of its exact place.
func (r *movedRing) may(v, axis int, step float64) bool {
	return r.exact == nil || step*(r.exact[v][axis]*r.perUnit-r.ring[v][axis]) > 0
}

// make moves the vertex. The closing vertex moves with the first.
func (m vertexStep) make() {
	r := m.of.ring
	r[m.v][m.axis] += m.step
	if m.v == 0 {
		r[len(r)-1] = r[0]
	}
}

// apart reports whether the gains of two steps add up: not for neighbouring vertices, nor for two
// steps of one vertex along the same axis.
func (m *vertexStep) apart(n *vertexStep) bool {
	if m.of != n.of {
		return true
	}
	around := len(m.of.ring) - 1
	d := (m.v - n.v + around) % around
	return d > 1 && d < around-1 || d == 0 && m.axis != n.axis
}

// closeEnough is a rest in square steps that is left as it is: a dozen square steps are 15 cm2.
// fewSteps is the largest number of steps for which sums of three are tried; with more steps, sums
// of two come near enough. That takes some milliseconds at most. Our choice.
const (
	closeEnough = 4
	fewSteps    = 300
)

// leastLeft returns the one or two steps of all (three where there are few) whose gains come
// nearest to wanted, and the rest they leave. It returns none where no step improves on the present
// area. all must be sorted by gain.
func leastLeft(all []vertexStep, wanted float64) (best []vertexStep, left float64) {
	best, left = pairLeft(all, wanted, nil)
	if left >= math.Abs(wanted) {
		best, left = nil, math.Abs(wanted)
	}
	if left <= closeEnough || len(all) > fewSteps {
		return best, left
	}
	for i := range all {
		if three, rest := pairLeft(all, wanted-all[i].gain, &all[i]); rest < left {
			best, left = append(three, all[i]), rest
		}
	}
	return best, left
}

// pairLeft returns the one or two steps of all that come nearest to wanted and are apart from with,
// and the rest they leave. all must be sorted by gain.
func pairLeft(all []vertexStep, wanted float64, with *vertexStep) (best []vertexStep, left float64) {
	left = math.Inf(1)
	free := func(m *vertexStep) bool { return with == nil || m.apart(with) }
	for i := range all {
		a := &all[i]
		if !free(a) {
			continue
		}
		if rest := math.Abs(wanted - a.gain); rest < left {
			best, left = []vertexStep{*a}, rest
		}
		// the nearest other step on either side
		k, _ := slices.BinarySearchFunc(all, wanted-a.gain, func(m vertexStep, gain float64) int { return cmp.Compare(m.gain, gain) })
		for _, way := range []int{1, -1} {
			for at := k - (1-way)/2; at >= 0 && at < len(all); at += way {
				b := &all[at]
				if at == i || !free(b) || !a.apart(b) {
					continue
				}
				if rest := math.Abs(wanted - a.gain - b.gain); rest < left {
					best, left = []vertexStep{*a, *b}, rest
				}
				break
			}
		}
	}
	return best, left
}
