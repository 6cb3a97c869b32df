package knapsack

import "slices"

// marks is a set of places in a list, one bit each.
type marks []uint64

func marksFor(n int) marks { return make(marks, (n+63)/64) }

func (m marks) set(at int32, in bool) {
	if bit := uint64(1) << (at & 63); in {
		m[at>>6] |= bit
	} else {
		m[at>>6] &^= bit
	}
}

// cheap tells the places whose cost is at most some room, for a number of rooms.
type cheap struct {
	limits []float64 // ascending
	within []marks   // by limit: the places that cost no more
	lowest float64   // cost of any place
}

// mostLimits limits the rooms that cheap knows. Our choice: each cost of a small region, some hundred
// kilobytes for a large one.
const mostLimits = 256

// cheapOf returns the marks for costs by place.
func cheapOf(costs []float64) (c cheap) {
	sorted := slices.Clone(costs)
	slices.Sort(sorted)
	if len(sorted) > 0 {
		c.lowest = sorted[0]
	}
	for at := range min(len(sorted), mostLimits) {
		limit := sorted[(at+1)*len(sorted)/min(len(sorted), mostLimits)-1]
		if at > 0 && limit == c.limits[len(c.limits)-1] {
			continue
		}
		within := marksFor(len(costs))
		for place, cost := range costs {
			within.set(int32(place), cost <= limit)
		}
		c.limits, c.within = append(c.limits, limit), append(c.within, within)
	}
	return c
}

// at returns marks that have all places whose cost is at most room, and maybe some that cost more. It
// returns nil if no place costs so little.
func (c *cheap) at(room float64) marks {
	if len(c.limits) == 0 || !(room >= c.lowest) {
		return nil
	}
	low, high := 0, len(c.limits)-1 // the first limit of at least room, or the last one
	for low < high {
		if half := (low + high) / 2; c.limits[half] < room {
			low = half + 1
		} else {
			high = half
		}
	}
	return c.within[low]
}
