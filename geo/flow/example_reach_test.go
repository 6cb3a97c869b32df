package flow_test

import (
	"fmt"
	"math"

	"driftreach/geo/flow"
)

// Half of what floats settles in each kilometre. From the head of a brook of a kilometre, a quarter is
// afloat after two: there the reach ends, at the outlet of a river of the same length.
func ExampleNetwork_Reach() {
	lines := fork()
	network, _ := flow.Build(lines, flow.DefaultOptions())
	n := len(network.Edges)
	t := flow.Transport{Rate: make([]float64, n), Pass: make([]float64, n)}
	for i := range n {
		t.Rate[i], t.Pass[i] = math.Ln2/1000, 1
	}
	head := []flow.Place{network.At(1, 0)} // of the west brook
	for _, p := range network.Reach(t, head, flow.Bound{Floor: 0.2, Divided: true}, network.NewWalker()) {
		name := lines[network.Edges[p.Edge].Line].Name
		fmt.Printf("%s: metre %.0f to %.0f, share %.2f to %.2f\n", name, p.From, p.To, p.ShareFrom, p.ShareTo)
	}
	// Output:
	// west brook: metre 0 to 1000, share 1.00 to 0.50
	// river: metre 0 to 1000, share 0.50 to 0.25
}
