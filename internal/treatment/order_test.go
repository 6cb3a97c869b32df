package treatment

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Expected orders derived by hand.
func TestOrder(t *testing.T) {
	tests := []struct {
		name string
		jobs []Job
		want []int
	}{
		{"no stands", nil, []int{}},
		{"upstream first although the lower one protects more per acre", []Job{
			{ReachKm: 9, Acres: 1},
			{Reaches: []int32{0}, ReachKm: 1, Acres: 1},
		}, []int{2, 1}},
		{"more reach per acre first among equals", []Job{
			{ReachKm: 2, Acres: 2}, {ReachKm: 4, Acres: 1}, {ReachKm: 3, Acres: 1},
		}, []int{3, 1, 2}},
		{"ties to the earlier stand", []Job{
			{ReachKm: 1, Acres: 1}, {ReachKm: 2, Acres: 2}, {ReachKm: 3, Acres: 3},
		}, []int{1, 2, 3}},
		{"stands that reach each other share a number", []Job{
			{Reaches: []int32{1}, ReachKm: 1, Acres: 1},
			{Reaches: []int32{0, 2}, ReachKm: 1, Acres: 1},
			{ReachKm: 50, Acres: 1},
		}, []int{1, 1, 2}},
		{"upland stands come last", []Job{
			{Acres: 1}, {ReachKm: 1, Acres: 100},
		}, []int{2, 1}},
		{"a freed stand overtakes what protects less", []Job{
			{Reaches: []int32{2}, ReachKm: 5, Acres: 1},
			{ReachKm: 1, Acres: 1},
			{ReachKm: 9, Acres: 1},
		}, []int{1, 3, 2}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, Order(tt.jobs)); diff != "" {
				t.Errorf("Order: (-want +got)\n%s", diff)
			}
		})
	}
}

// A stand never comes after one it reaches, on any relation, cycles and all;
// equal numbers only where each reaches the other through the relation.
func TestOrderUpstreamFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jobs := drawJobs(t)
		order := Order(jobs)
		closure := reachable(jobs)
		for a := range jobs {
			for b := range jobs {
				switch {
				case a == b:
				case closure[a][b] && closure[b][a] && order[a] != order[b]:
					t.Fatalf("stands %d and %d reach each other but got %d and %d", a, b, order[a], order[b])
				case closure[a][b] && !closure[b][a] && order[a] >= order[b]:
					t.Fatalf("stand %d reaches %d but got %d, not before %d", a, b, order[a], order[b])
				case !closure[a][b] && !closure[b][a] && order[a] == order[b]:
					t.Fatalf("stands %d and %d are strangers but share %d", a, b, order[a])
				}
			}
		}
		distinct := slices.Compact(slices.Sorted(slices.Values(order)))
		for i, n := range distinct {
			if n != i+1 {
				t.Fatalf("numbers leave a gap: %v", distinct)
			}
		}
	})
}

// At every step the stand taken is the best of those free, checked by a
// direct search: an independent, quadratic statement of the rule.
func TestOrderGreedy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jobs := drawJobs(t)
		order := Order(jobs)
		closure := reachable(jobs)
		groups := map[int]Job{}
		for i := range jobs {
			g := groups[order[i]]
			g.ReachKm += jobs[i].ReachKm
			g.Acres += jobs[i].Acres
			groups[order[i]] = g
		}
		for a := range jobs {
			for b := range jobs {
				if order[a] >= order[b] || !freeAt(order[a], b, order, closure) {
					continue
				}
				ga, gb := groups[order[a]], groups[order[b]]
				if ga.ReachKm*gb.Acres < gb.ReachKm*ga.Acres {
					t.Fatalf("stand %d (%v) was taken while %d (%v) was free", a, ga, b, gb)
				}
			}
		}
	})
}

// freeAt says whether all that reach b's group were numbered before n.
func freeAt(n, b int, order []int, closure [][]bool) bool {
	for c := range order {
		if order[c] == order[b] {
			continue
		}
		for m := range order {
			if order[m] == order[b] && closure[c][m] && order[c] >= n {
				return false
			}
		}
	}
	return true
}

func drawJobs(t *rapid.T) []Job {
	n := rapid.IntRange(1, 12).Draw(t, "stands")
	jobs := make([]Job, n)
	for i := range jobs {
		jobs[i].ReachKm = float64(rapid.IntRange(0, 9).Draw(t, "reach"))
		jobs[i].Acres = float64(rapid.IntRange(1, 9).Draw(t, "acres"))
		for j := range n {
			if i != j && rapid.IntRange(0, 9).Draw(t, "reaches") == 0 {
				jobs[i].Reaches = append(jobs[i].Reaches, int32(j))
			}
		}
	}
	return jobs
}

// reachable is the transitive closure, by Warshall's algorithm.
func reachable(jobs []Job) [][]bool {
	closure := make([][]bool, len(jobs))
	for i := range jobs {
		closure[i] = make([]bool, len(jobs))
		for _, j := range jobs[i].Reaches {
			closure[i][j] = true
		}
	}
	for k := range jobs {
		for i := range jobs {
			for j := range jobs {
				closure[i][j] = closure[i][j] || closure[i][k] && closure[k][j]
			}
		}
	}
	return closure
}

// A chain of a million stands must not exhaust a stack.
func TestOrderLongChain(t *testing.T) {
	jobs := make([]Job, 1_000_000)
	for i := range jobs {
		jobs[i] = Job{ReachKm: 1, Acres: 1}
		if i > 0 {
			jobs[i].Reaches = []int32{int32(i - 1)}
		}
	}
	order := Order(jobs)
	if order[0] != len(jobs) || order[len(jobs)-1] != 1 {
		t.Errorf("first %d, last %d; want %d and 1", order[0], order[len(jobs)-1], len(jobs))
	}
}
