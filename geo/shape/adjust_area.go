package shape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// adjustArea moves vertices of rings on a grid of 1/perUnit to the other whole number beside
// where they were exactly, either way where that is not known, but for those that must stay, until
// the area has grown by wanted square steps as nearly as it goes: those that take it
// nearer without going past, in order, and at last the few that together leave least.
// Where much is left, because only long sides can still move that way, one of them goes
// past and others take it back.
func adjustArea(mp, exact orb.MultiPolygon, perUnit float64, fixed map[orb.Point]bool, wanted float64) {
	rings := movedRings(mp, exact, perUnit)
	if wanted = approach(rings, fixed, wanted); math.Abs(wanted) <= closeEnough {
		return
	}
	all := allSteps(rings, fixed)
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
			last, _ = leastLeft(allSteps(rings, fixed), wanted)
		}
	}
	for _, m := range last {
		m.make()
	}
}

// approach moves vertices, in order, that bring the area nearer to what is wanted and
// not past it, and returns what is still wanted.
func approach(rings []*movedRing, fixed map[orb.Point]bool, wanted float64) float64 {
	var one []vertexStep
	for _, r := range rings {
		for v := 0; v+1 < len(r.ring); v++ {
			for axis := range 2 {
				one = r.steps(one[:0], fixed, v, axis)
				for _, m := range one {
					if m.gain*wanted > 0 && math.Abs(m.gain) <= math.Abs(wanted) {
						m.make()
						wanted -= m.gain
						break
					}
				}
			}
		}
	}
	return wanted
}

// allSteps returns the steps that vertices may make, sorted by gain.
func allSteps(rings []*movedRing, fixed map[orb.Point]bool) []vertexStep {
	var all []vertexStep
	for _, r := range rings {
		for v := 0; v+1 < len(r.ring); v++ {
			for axis := range 2 {
				all = r.steps(all, fixed, v, axis)
			}
		}
	}
	order := make([]int32, len(all)) // quicker to sort than the steps
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Or(cmp.Compare(all[a].gain, all[b].gain), cmp.Compare(a, b)) })
	sorted := make([]vertexStep, len(all))
	for i, k := range order {
		sorted[i] = all[k]
	}
	return sorted
}

// movedRing is a ring whose vertices are moved.
type movedRing struct {
	ring    orb.Ring
	exact   orb.Ring // where its vertices were, in units; nil where that is not known
	perUnit float64  // steps of the grid in a unit
	sign    float64  // of its area in that of the whole, as it is wound
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

// vertexStep is a vertex moved by one step.
type vertexStep struct {
	of      *movedRing
	v, axis int
	step    float64
	gain    float64 // of area, in square steps
}

// steps appends the steps that a vertex may make along an axis.
func (r *movedRing) steps(all []vertexStep, fixed map[orb.Point]bool, v, axis int) []vertexStep {
	if len(fixed) > 0 && fixed[r.ring[v]] {
		return all
	}
	before, after := r.ring[len(r.ring)-2], r.ring[v+1]
	if v > 0 {
		before = r.ring[v-1]
	}
	gain := r.sign * (after[1] - before[1]) / 2
	if axis == 1 {
		gain = r.sign * (before[0] - after[0]) / 2
	}
	if gain == 0 {
		return all
	}
	for _, step := range [2]float64{1, -1} {
		if r.exact == nil || step*(r.exact[v][axis]*r.perUnit-r.ring[v][axis]) > 0 {
			all = append(all, vertexStep{r, v, axis, step, step * gain})
		}
	}
	return all
}

// make moves the vertex, the closing one with the first.
func (m vertexStep) make() {
	r := m.of.ring
	r[m.v][m.axis] += m.step
	if m.v == 0 {
		r[len(r)-1] = r[0]
	}
}

// apart reports whether the gains of two steps add up: not those of neighbours, nor of
// one vertex both ways.
func (m *vertexStep) apart(n *vertexStep) bool {
	if m.of != n.of {
		return true
	}
	around := len(m.of.ring) - 1
	d := (m.v - n.v + around) % around
	return d > 1 && d < around-1 || d == 0 && m.axis != n.axis
}

// closeEnough is a few square steps, of which there are a dozen to 15 cm2; fewSteps is up
// to how many steps three of them are looked for together, since fewer leave fewer sums,
// in some milliseconds at most. Our choice.
const (
	closeEnough = 4
	fewSteps    = 300
)

// leastLeft returns one or two steps, or three where there are few, of all, sorted by
// gain, whose gains come nearest to wanted, and what they leave; none where that is no
// nearer than as it is.
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

// pairLeft returns the one or two steps of all, sorted by gain, that come nearest to
// wanted, each apart from with, and what they leave.
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
		// the nearest of the others on either side
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
