package flow

import (
	"cmp"
	"math/rand/v2"
	"testing"
)

// TestOrdersAtANode: the evidence from the orders at a node is the sum over all pairs.
func TestOrdersAtANode(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		orders := func() []int {
			out := make([]int, random.IntN(8))
			for i := range out {
				out[i] = random.IntN(5) - 1
			}
			return out
		}
		above, below := orders(), orders()
		var want, got evidence
		for _, a := range above {
			for _, b := range below {
				if a > 0 && b > 0 {
					want.add(cmp.Compare(b, a))
				}
			}
		}
		got.addPairs(above, below)
		if got != want {
			t.Fatalf("above %v, below %v: %v, want %v", above, below, got, want)
		}
	}
}

// TestManyLinesInOneValley: thousands of lines down one valley form one connected network with one
// outlet for all water.
func TestManyLinesInOneValley(t *testing.T) {
	for _, n := range []int{20, 5000} {
		network, _ := Build(valley(n), DefaultOptions())
		outlets := 0
		for node := range network.Nodes {
			if len(network.Out(int32(node))) == 0 {
				outlets++
			}
		}
		if outlets != 1 {
			t.Errorf("%d lines: %d outlets, want 1", n, outlets)
		}
	}
}
