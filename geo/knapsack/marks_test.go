package knapsack

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestCheap: for every room, all places that cost no more are marked; none is where all cost more. Of few
// costs, no place is marked that costs more than the next cost above the room; of many, more than that
// of some places further. By looking at every place.
func TestCheap(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 1, 5, 64, 65, 255, 256, 257, 1000, 5000} {
		costs := make([]float64, n)
		for at := range costs {
			costs[at] = math.Floor(random.Float64()*float64(n)) / 4 // with ties, and some of 0
		}
		c := cheapOf(costs)
		if len(c.limits) > mostLimits {
			t.Errorf("%d places: %d limits", n, len(c.limits))
		}
		step := (n + mostLimits - 1) / mostLimits // places from one limit to the next, at most
		for range 300 {
			room := random.Float64()*float64(n)/3 - 1
			if n > 0 && random.IntN(2) == 0 {
				room = costs[random.IntN(n)]
			}
			marked, fit, above := c.at(room), 0, map[float64]int{}
			for at, cost := range costs {
				is := marked != nil && marked[at/64]>>(at%64)&1 == 1
				if cost <= room {
					fit++
					if !is {
						t.Fatalf("%d places, room for %g: %d, which costs %g, is not marked", n, room, at, cost)
					}
				} else if is {
					above[cost]++
				}
			}
			if marked != nil && fit == 0 {
				t.Fatalf("%d places, room for %g: marked, and none costs so little", n, room)
			}
			if len(above) > step {
				t.Fatalf("%d places, room for %g: marked are those of %d higher costs", n, room, len(above))
			}
			if marked != nil && marked[len(marked)-1]>>((n-1)%64)>>1 != 0 {
				t.Fatalf("%d places: one beyond them is marked", n)
			}
		}
		if c.at(math.NaN()) != nil {
			t.Errorf("%d places: some fit into no number", n)
		}
	}
}
