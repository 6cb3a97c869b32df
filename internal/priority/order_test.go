package priority

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/drift"
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
			{Exposure: 9, Acres: 1},
			{Reaches: []int32{0}, Exposure: 1, Acres: 1},
		}, []int{2, 1}},
		{"more reach per acre first among equals", []Job{
			{Exposure: 2, Acres: 2}, {Exposure: 4, Acres: 1}, {Exposure: 3, Acres: 1},
		}, []int{3, 1, 2}},
		{"ties to the earlier stand", []Job{
			{Exposure: 1, Acres: 1}, {Exposure: 2, Acres: 2}, {Exposure: 3, Acres: 3},
		}, []int{1, 2, 3}},
		{"stands that reach each other share a number", []Job{
			{Reaches: []int32{1}, Exposure: 1, Acres: 1},
			{Reaches: []int32{0, 2}, Exposure: 1, Acres: 1},
			{Exposure: 50, Acres: 1},
		}, []int{1, 1, 2}},
		{"upland stands come last", []Job{
			{Acres: 1}, {Exposure: 1, Acres: 100},
		}, []int{2, 1}},
		{"half of the acres hold no more than the second, all hold the chain", []Job{
			{Reaches: []int32{2}, Exposure: 1, Acres: 1},
			{Exposure: 4, Acres: 1},
			{Exposure: 9, Acres: 1},
		}, []int{2, 1, 3}},
		{"a stand worth little opens the way to one worth much, at half of the acres", []Job{
			{Reaches: []int32{2}, Exposure: 1, Acres: 1},
			{Exposure: 1, Acres: 1},
			{Exposure: 9, Acres: 1},
			{Exposure: 0, Acres: 1},
		}, []int{1, 3, 2, 4}},
		{"treated stands cost nothing on the way, and come last where nothing is below", []Job{
			{}, {Exposure: 2, Acres: 1}, {Reaches: []int32{1}},
		}, []int{3, 2, 1}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, Order(tt.jobs)); diff != "" {
				t.Errorf("Order: (-want +got)\n%s", diff)
			}
		})
	}
}

// A stand never comes after one it reaches, in any relation, cycles included; two have equal
// numbers only where each reaches the other.
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

// Up to seven stands: at each season the order's beginnings, compared with the best set of as many
// acres, are as good as those of the best possible order (the one whose worst season is best, of
// all that keep the rule): 99 % as good on average over many networks.
func TestOrderIsNearTheBestOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	var got, best float64
	for range 400 {
		jobs := make([]Job, 2+random.IntN(6))
		for i := range jobs {
			jobs[i].Exposure, jobs[i].Acres = drift.AmountKm(1+random.IntN(9)), geo.Acres(1+random.IntN(9))
			for j := i + 1; j < len(jobs); j++ {
				if random.IntN(3) == 0 {
					jobs[i].Reaches = append(jobs[i].Reaches, int32(j))
				}
			}
		}
		closure := reachable(jobs)
		seasonal := bestSets(jobs, closure)
		most := 0.0
		permute(len(jobs), func(order []int) {
			if keeps(order, closure) {
				most = max(most, worstSeason(jobs, order, seasonal))
			}
		})
		sequence := make([]int, len(jobs))
		for i, number := range Order(jobs) {
			sequence[number-1] = i
		}
		got, best = got+worstSeason(jobs, sequence, seasonal), best+most
	}
	t.Logf("%.4f of the best", got/best)
	if got < 0.99*best {
		t.Errorf("the worst season is %.4f of what the best orders have, want 0.99", got/best)
	}
}

// bestSets tries every set of stands: the most exposure removed within each season's acres and the
// rule.
func bestSets(jobs []Job, closure [][]bool) []float64 {
	most := make([]float64, len(seasons))
	for set := range 1 << len(jobs) {
		var exposure, acres, all float64
		fits := true
		for b := range jobs {
			all += float64(jobs[b].Acres)
			if set>>b&1 == 0 {
				continue
			}
			exposure, acres = exposure+float64(jobs[b].Exposure), acres+float64(jobs[b].Acres)
			for a := range jobs {
				fits = fits && (!closure[a][b] || set>>a&1 == 1)
			}
		}
		for k, share := range seasons {
			if fits && acres <= share*all {
				most[k] = max(most[k], exposure)
			}
		}
	}
	return most
}

// worstSeason is the lowest share of the best that an order reaches at a season's end.
func worstSeason(jobs []Job, order []int, most []float64) float64 {
	var all float64
	for _, job := range jobs {
		all += float64(job.Acres)
	}
	least := 1.0
	for k, share := range seasons {
		var exposure, acres float64
		for _, i := range order {
			if acres += float64(jobs[i].Acres); acres > share*all {
				break
			}
			exposure += float64(jobs[i].Exposure)
		}
		if most[k] > 0 {
			least = min(least, exposure/most[k])
		}
	}
	return least
}

// keeps says whether an order never puts a stand after one it reaches.
func keeps(order []int, closure [][]bool) bool {
	for at, later := range order {
		for _, earlier := range order[:at] {
			if closure[later][earlier] {
				return false
			}
		}
	}
	return true
}

// permute calls do with every order of 0..n-1.
func permute(n int, do func([]int)) {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	var next func(k int)
	next = func(k int) {
		if k == n {
			do(order)
			return
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			next(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	next(0)
}

func drawJobs(t *rapid.T) []Job {
	n := rapid.IntRange(1, 12).Draw(t, "stands")
	jobs := make([]Job, n)
	for i := range jobs {
		jobs[i].Exposure = drift.AmountKm(rapid.IntRange(0, 9).Draw(t, "reach"))
		jobs[i].Acres = geo.Acres(rapid.IntRange(1, 9).Draw(t, "acres"))
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
		jobs[i] = Job{Exposure: 1, Acres: 1}
		if i > 0 {
			jobs[i].Reaches = []int32{int32(i - 1)}
		}
	}
	order := Order(jobs)
	if order[0] != len(jobs) || order[len(jobs)-1] != 1 {
		t.Errorf("first %d, last %d; want %d and 1", order[0], order[len(jobs)-1], len(jobs))
	}
}

// TestSeasonsAreAsWritten: the shares at which the order is compared with the best sets are those
// given in the methods text.
func TestSeasonsAreAsWritten(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "cmd", "driftreach", "reference", "methods.md"))
	if err != nil {
		t.Fatal(err)
	}
	var percents []string
	for _, share := range seasons {
		percents = append(percents, strconv.FormatFloat(100*share, 'g', 10, 64))
	}
	last := len(percents) - 1
	if want := "After " + strings.Join(percents[:last], ", ") + " and " + percents[last] + " % of the acres the order is near the best set"; !strings.Contains(string(text), want) {
		t.Errorf("methods.md does not say: %s", want)
	}
}
