package knapsack

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The decomposition part by part is the one of the whole, also when parts are known from earlier
// questions with other values.
func TestApartIsTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawNetwork(t, 40)
		for i := range items { // no ties
			items[i].Value += float64(i%7)*0.0137 + float64(i)*0.00031
			items[i].Cost += 0.5 + float64(i%5)*0.0173 + float64(i)*0.00023
		}
		p := pose(items, nil)
		for range 6 {
			nodes := drawSome(t, p)
			whole, parts := p.pieces(nodes), p.apart(nodes, p.ranked(p.all()))
			if len(whole) != len(parts) {
				t.Fatalf("%d pieces of %v, %d part by part", len(whole), nodes, len(parts))
			}
			for k, one := range whole {
				other := parts[k]
				if !slices.Equal(one.nodes, other.nodes) || !near(one.value, other.value) || !near(one.cost, other.cost) || !near(one.rank, other.rank) {
					t.Fatalf("piece %d of %v: %v, part by part %v", k, nodes, one, other)
				}
			}
			at := rapid.IntRange(0, len(p.value)-1).Draw(t, "changed")
			p.graph.value = slices.Clone(p.value)
			p.value[at] += rapid.Float64Range(-1, 1).Draw(t, "by")
		}
	})
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*(1+math.Abs(a)) }

// With ties and nodes without cost or value the pieces may differ, but not what they are worth at
// any budget, nor that each node comes after those it needs.
func TestApartWithTies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := pose(drawNetwork(t, 40), nil)
		nodes := drawSome(t, p)
		whole, parts := p.pieces(nodes), p.apart(nodes, p.ranked(p.all()))
		var row []int32
		for _, one := range parts {
			row = append(row, one.nodes...)
		}
		place := make([]int, len(p.value))
		for at, n := range row {
			place[n] = at + 1
		}
		for _, n := range nodes {
			for _, need := range p.needs[n] {
				if place[n] == 0 || place[need] > place[n] {
					t.Fatalf("node %d in place %d, its need %d in %d", n, place[n], need, place[need])
				}
			}
		}
		if slices.Sort(row); !slices.Equal(row, nodes) {
			t.Fatalf("nodes %v, want %v", row, nodes)
		}
		for budget := 0.0; budget < 40; budget += 0.5 {
			if a, b := bound(whole, budget), bound(parts, budget); !near(a, b) {
				t.Fatalf("budget %g: %g, part by part %g", budget, a, b)
			}
		}
	})
}

// drawSome draws some nodes of a graph, ascending.
func drawSome(t *rapid.T, p *problem) []int32 {
	var nodes []int32
	for n := range p.value {
		if rapid.IntRange(0, 3).Draw(t, "in") > 0 {
			nodes = append(nodes, int32(n))
		}
	}
	return nodes
}

// Parts are forgotten before they take much room.
func TestApartForgets(t *testing.T) {
	items := make([]Item, 2*mostKept/3)
	for i := range items {
		items[i] = Item{Value: float64(i%9) + 1, Cost: float64(i%4) + 1}
		if i > 0 {
			items[i].Needs = []int32{int32(i - 1)}
		}
	}
	p := pose(items, nil)
	for by := range 3 {
		p.value[0] = float64(by)
		p.apart(p.all(), p.ranked(p.all()))
		if p.parts.kept > mostKept || len(p.parts.known) != 1 {
			t.Fatalf("%d parts of %d nodes are kept", len(p.parts.known), p.parts.kept)
		}
	}
}

// A node that was not ranked is our own mistake, and no part is lost without a word.
func TestApartOfUnranked(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a node without a rank is left out")
		}
	}()
	p := pose([]Item{{Value: 1, Cost: 1}, {Value: 2, Cost: 1}}, nil)
	p.apart(p.all(), p.ranked([]int32{1}))
}

// By hand: nodes 2 and 3 have a value of 2 for a cost of 1, node 0 of a half; node 4 costs nothing and goes
// first, and node 1 has neither cost nor value and goes last.
func TestRanked(t *testing.T) {
	g := graph{value: []float64{1, 0, 4, 2, 3}, cost: []float64{2, 0, 2, 1, 0}}
	if got, want := g.ranked([]int32{0, 1, 2, 3, 4}), []int32{4, 2, 3, 0, 1}; !slices.Equal(got, want) {
		t.Errorf("ranked %v, want %v", got, want)
	}
}
