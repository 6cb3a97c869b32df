package flow_test

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// fork is two brooks that meet and run on as one, each a kilometre by its record.
func fork() []flow.Line {
	line := func(name string, path orb.LineString) flow.Line {
		return flow.Line{Name: name, Path: path, Sequence: math.NaN(), Share: math.NaN(), Area: geo.SquareKilometers(math.NaN()), Length: 1000}
	}
	return []flow.Line{
		line("east brook", orb.LineString{{0.01, 0.01}, {0, 0}}),
		line("west brook", orb.LineString{{-0.01, 0.01}, {0, 0}}),
		line("river", orb.LineString{{0, 0}, {0, -0.009}}),
	}
}

// Two heads of order 1 make a river of order 2 (Strahler 1957).
func ExampleBuild() {
	lines := fork()
	network, troubles := flow.Build(lines, flow.DefaultOptions())
	for _, e := range network.Edges {
		fmt.Printf("%s: order %d, %.0f km to the outlet, %.0f km of stream above\n", lines[e.Line].Name, e.Order, e.OutletKm, e.UpstreamKm)
	}
	fmt.Println(len(troubles), "troubles")
	// Output:
	// east brook: order 1, 1 km to the outlet, 1 km of stream above
	// west brook: order 1, 1 km to the outlet, 1 km of stream above
	// river: order 2, 0 km to the outlet, 3 km of stream above
	// 0 troubles
}

// What is released settles by half each kilometre; the rest leaves at the outlet.
func ExampleNetwork_Sweep() {
	network, _ := flow.Build(fork(), flow.DefaultOptions())
	t := flow.Transport{Rate: make([]float64, len(network.Edges)), Pass: make([]float64, len(network.Edges))}
	for i := range network.Edges {
		t.Rate[i], t.Pass[i] = math.Ln2/1000, 1
	}
	swept := network.Sweep(t, []flow.Source{{Place: network.At(0, 0), Amount: 1}}) // at the head of a brook
	fmt.Printf("released %.2f = settled %.2f + held %.2f + left %.2f\n", swept.Released, swept.Settled, swept.Held, swept.Left)
	// Output: released 1.00 = settled 0.75 + held 0.00 + left 0.25
}
