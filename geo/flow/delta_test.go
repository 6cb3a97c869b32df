package flow

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// solve returns the x of m x = b, by Gaussian elimination with partial pivoting. It changes both.
func solve(m [][]float64, b []float64) []float64 {
	for c := range b {
		pivot := c
		for r := c + 1; r < len(b); r++ {
			if math.Abs(m[r][c]) > math.Abs(m[pivot][c]) {
				pivot = r
			}
		}
		m[c], m[pivot], b[c], b[pivot] = m[pivot], m[c], b[pivot], b[c]
		for r := c + 1; r < len(b); r++ {
			if factor := m[r][c] / m[c][c]; factor != 0 {
				for k := c; k < len(b); k++ {
					m[r][k] -= factor * m[c][k]
				}
				b[r] -= factor * b[c]
			}
		}
	}
	for r := len(b) - 1; r >= 0; r-- {
		for k := r + 1; k < len(b); k++ {
			b[r] -= m[r][k] * b[k]
		}
		b[r] /= m[r][r]
	}
	return b
}

// varied returns a transport as a variant has it.
func varied(tr Transport, v Variant) Transport {
	tr.Rate, tr.Pass, tr.Enter = slices.Clone(tr.Rate), slices.Clone(tr.Pass), slices.Clone(tr.Enter)
	for e := range tr.Rate {
		tr.Rate[e] /= v.Longer
		tr.Pass[e] = v.Passes(tr.Pass[e])
		if tr.Enter != nil {
			tr.Enter[e] = v.Passes(tr.Enter[e])
		}
	}
	return tr
}

// inflows returns by edge the share at its upper end of what a place's worth of 1 at a node becomes: the
// amounts solve one linear equation for each edge. No order of the edges and no path is used.
func inflows(n *Network, tr Transport, node int32, share float64) []float64 {
	m, b := make([][]float64, len(n.Edges)), make([]float64, len(n.Edges))
	for e := range m {
		m[e] = make([]float64, len(n.Edges))
		m[e][e] = 1
		enters := tr.ShareOf(n, int32(e)) * tr.EnterOf(int32(e))
		if n.Edges[e].From == node {
			b[e] = share * enters
		}
		for u := range n.Edges {
			if n.Edges[u].To == n.Edges[e].From {
				m[e][u] -= math.Exp(-tr.Rate[u]*float64(n.Edges[u].Length)) * tr.Pass[u] * enters
			}
		}
	}
	return solve(m, b)
}

// drawVariant draws a variant: pass shares below 1 change, 1 stays.
func drawVariant(t *rapid.T) Variant {
	pass := rapid.Float64Range(0.5, 1.5).Draw(t, "pass")
	return Variant{Longer: rapid.Float64Range(0.5, 3).Draw(t, "longer"), Passes: func(share float64) float64 {
		if share < 1 {
			return min(1, share*pass)
		}
		return share
	}}
}

// TestDeltaAgainstEquations compares the largest share at the upper end of each edge, by several transports
// and of several releases, with the solution of linear equations: to 1e-12, and all that is at or above the
// floor is there, whether the delta is all that lies below or only as much as leads to it. A second call, and
// another set of transports in the same memory, give the same.
func TestDeltaAgainstEquations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, _ := Build(drawLines(t), DefaultOptions())
		tr := drawTransport(t, n, false)
		if rapid.Bool().Draw(t, "gates") {
			for range n.Edges {
				tr.Enter = append(tr.Enter, rapid.SampledFrom([]float64{0, 0.4, 1, 1}).Draw(t, "enter"))
			}
		}
		floor := rapid.SampledFrom([]float64{0.01, 0.05, 0.3}).Draw(t, "floor")
		variants := rapid.SliceOfN(rapid.Custom(drawVariant), 1, Lanes).Draw(t, "variants")
		want := make([]Shares, len(n.Edges))
		far, all := make([]bool, len(n.Edges)), slices.Repeat([]bool{true}, len(n.Edges))
		starts := rapid.SliceOfN(rapid.IntRange(0, len(n.Nodes)-1), 1, 3).Draw(t, "starts")
		var nodes []int32
		for _, v := range starts {
			nodes = append(nodes, int32(v))
		}
		shares := rapid.SliceOfN(rapid.Float64Range(0.02, 1), len(nodes), len(nodes)).Draw(t, "shares")
		for i, v := range nodes {
			for k := range variants {
				if shares[i] < floor {
					continue
				}
				for e, share := range inflows(n, varied(tr, variants[k]), v, shares[i]) {
					want[e][k] = max(want[e][k], share)
					far[e] = far[e] || share >= floor*almost
				}
			}
		}
		for _, edges := range [][]bool{all, far} {
			d := n.NewDelta(tr, nodes, edges)
			w := d.NewWalker(floor)
			for range 2 {
				w.Set([]Variant{{}, {Longer: 9, Passes: func(float64) float64 { return 1 }}})
				w.Start(1, nodes[0], 1)
				w.Follow()
				w.Set(variants)
				for i, v := range nodes {
					for k := range variants {
						w.Start(k, v, shares[i])
					}
				}
				checkReached(t, w, variants, want)
			}
		}
	})
}

// checkReached compares what a walker reaches with shares by edge.
func checkReached(t *rapid.T, w *DeltaWalker, variants []Variant, want []Shares) {
	got := make([]Shares, len(want))
	for _, r := range w.Follow() {
		got[w.Edge(r.Leg)] = r.Share
		for k, v := range variants {
			e := w.Edge(r.Leg)
			length := float64(w.n.Edges[e].Length)
			end := 0.0
			if r.Share[k] >= w.floor {
				end = length
				if rate := w.t.Rate[e] / v.Longer; rate > 0 {
					end = min(length, math.Log(r.Share[k]/w.floor)/rate)
				}
			}
			if have := float64(w.End(k, r.Leg, r.Share[k])); math.Abs(have-end) > 1e-9*length {
				t.Fatalf("edge %d, transport %d: %g m reached, want %g", e, k, have, end)
			}
		}
	}
	for e := range want {
		for k := range variants {
			if x := want[e][k]; math.Abs(got[e][k]-x) > 1e-12 && (x >= w.floor || got[e][k] != 0) {
				t.Fatalf("edge %d, transport %d: share %g, by equations %g", e, k, got[e][k], x)
			}
		}
	}
}

// TestDeltaOfLattice does the same on a lattice of 8 by 8 nodes, with one release at its corner, for which
// each node's share is known: the binomial coefficient of its way, over 2 to the number of divisions
// passed, where nothing settles. Along the last row and column the water no longer divides.
func TestDeltaOfLattice(t *testing.T) {
	const side, floor = 8, 1e-3
	lines := lattice(side)
	n, _ := Build(lines, DefaultOptions())
	w := n.NewDelta(everywhere(n, 0), []int32{n.Edges[0].From}, slices.Repeat([]bool{true}, len(n.Edges))).NewWalker(floor)
	w.Set([]Variant{{Longer: 1}})
	w.Start(0, n.Edges[0].From, 1)
	// by hand: to node (i, j) from above and from the left, with half of either where that one divides
	var share [side][side]float64
	share[0][0] = 1
	on := func(i, j int, last bool) float64 {
		if last {
			return share[i][j]
		}
		return share[i][j] / 2
	}
	want := map[string]float64{}
	for i := range side {
		for j := range side {
			if i > 0 {
				share[i][j] += on(i-1, j, j == side-1)
				want[latticeLine('e', i-1, j)] = on(i-1, j, j == side-1)
			}
			if j > 0 {
				share[i][j] += on(i, j-1, i == side-1)
				want[latticeLine('s', i, j-1)] = on(i, j-1, i == side-1)
			}
		}
	}
	met := 0
	for _, r := range w.Follow() {
		name := lines[n.Edges[w.Edge(r.Leg)].Line].Name
		near(t, name, r.Share[0], want[name], 1e-12)
		met++
	}
	for _, share := range want {
		if share >= floor {
			met--
		}
	}
	if met != 0 || share[side-1][side-1] != 1 {
		t.Errorf("%d edges too many, %g at the end", met, share[side-1][side-1])
	}
}

// TestMarks takes marked numbers in order, among a number that fills no word, one, and groups of words.
func TestMarks(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 1, 63, 64, 65, 4096, 4097, 100_000} {
		m := newMarks(n)
		if got := m.take(0); got != -1 {
			t.Errorf("%d numbers, none marked: %d", n, got)
		}
		for _, some := range []int{1, 5, n / 3, n} {
			want := random.Perm(n)[:min(n, some)]
			for _, i := range want {
				m.add(int32(i))
			}
			slices.Sort(want)
			var got []int
			for i := m.take(0); i >= 0; i = m.take(i + 1) {
				got = append(got, int(i))
			}
			if !slices.Equal(got, want) {
				t.Fatalf("%d of %d marked: %d taken", len(want), n, len(got))
			}
		}
	}
}
