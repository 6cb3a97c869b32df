package knapsack

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The nearest links lead wherever all links do, in any relation, cycles included; without cycles
// none can be left out.
func TestNearestLeadsAsFar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 14).Draw(t, "things")
		circles := rapid.Bool().Draw(t, "circles")
		links := make([][]int32, n)
		for i := range links {
			for j := range n {
				if i != j && (circles || j > i) && rapid.IntRange(0, 4).Draw(t, "leads") == 0 {
					links[i] = append(links[i], int32(j))
				}
			}
		}
		near := Nearest(n, func(i int32) []int32 { return links[i] })
		want := leads(links)
		if got := leads(near); !slices.EqualFunc(got, want, slices.Equal) {
			t.Fatalf("%v leads elsewhere than %v", near, links)
		}
		for i := range near {
			for k, to := range near[i] {
				if !slices.Contains(links[i], to) {
					t.Fatalf("%d to %d is no link", i, to)
				}
				without := slices.Clone(near)
				without[i] = slices.Delete(slices.Clone(near[i]), k, k+1)
				if !circles && slices.EqualFunc(leads(without), want, slices.Equal) {
					t.Fatalf("the link from %d to %d is implied: %v", i, to, near)
				}
			}
		}
	})
}

// leads is the transitive closure, by Warshall's algorithm.
func leads(links [][]int32) [][]bool {
	out := make([][]bool, len(links))
	for i := range links {
		out[i] = make([]bool, len(links))
		for _, j := range links[i] {
			out[i][j] = true
		}
	}
	for k := range links {
		for i := range links {
			for j := range links {
				out[i][j] = out[i][j] || out[i][k] && out[k][j]
			}
		}
	}
	return out
}
