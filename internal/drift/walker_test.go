package drift

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// drawNetwork makes a small directed network with braids: line i runs from a node to a later one,
// so that there is no cycle.
func drawNetwork(t *rapid.T, tb testing.TB) *stream.Network {
	nodes := rapid.IntRange(2, 7).Draw(t, "nodes")
	barriers := []stream.Barrier{stream.NoBarrier, stream.NoBarrier, stream.NoBarrier, stream.Dam, stream.Weir}
	var channels []channel
	for from := 1; from < nodes; from++ {
		for range rapid.IntRange(1, 2).Draw(t, "ways out") {
			channels = append(channels, channel{
				id: fmt.Sprintf("l%02d", len(channels)), from: from, to: rapid.IntRange(from+1, nodes).Draw(t, "to"),
				km: rapid.Float64Range(0.05, 3).Draw(t, "km"), order: rapid.IntRange(1, 5).Draw(t, "order"),
				barrier: rapid.SampledFrom(barriers).Draw(t, "barrier"),
			})
		}
	}
	return network(tb, channels...)
}

func drawSources(t *rapid.T, net *stream.Network, stands int) []Source {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Source {
		edge := rapid.IntRange(0, len(net.Net.Edges)-1).Draw(t, "edge")
		along := float64(rapid.IntRange(0, 64).Draw(t, "along")) / 64 // often the same place
		return Source{
			Stand:  int32(rapid.IntRange(0, stands-1).Draw(t, "stand")),
			Place:  flow.Place{Edge: int32(edge), Offset: geo.Meters(along) * net.Net.Edges[edge].Length},
			Amount: Amount(rapid.Float64Range(0.01, 5).Draw(t, "amount")),
		}
	}), 1, 6).Draw(t, "sources")
}

// walker follows every path from a source, one at a time, and shares only the network with the
// sweeps.
type walker struct {
	net     *flow.Network
	t       flow.Transport
	balance Outcome
	onEdge  func(edge int32, from geo.Meters, share, amount float64) // share: the whole of it in every branch
}

func (w *walker) walk(at flow.Place, share, amount float64) {
	edge := w.net.Edges[at.Edge]
	w.onEdge(at.Edge, at.Offset, share, amount)
	afloat := math.Exp(-w.t.Rate[at.Edge] * float64(edge.Length-at.Offset))
	w.balance.Settled += Amount(amount * (1 - afloat))
	w.balance.Exposure += AmountKm(amount * (1 - afloat) / w.t.Rate[at.Edge] / 1000)
	w.balance.Held += Amount(amount * afloat * (1 - w.t.Pass[at.Edge]))
	share *= afloat * w.t.Pass[at.Edge]
	amount *= afloat * w.t.Pass[at.Edge]
	next := w.net.Downstream(at.Edge)
	if len(next) == 0 {
		w.balance.Left += Amount(amount)
	}
	for _, n := range next {
		w.walk(flow.Place{Edge: n}, share, amount*w.net.Edges[n].Share)
	}
}

// arrived is what one source brings to an edge over all paths: its release divided and summed, and
// that of the best path undivided.
type arrived struct{ from, sum, best float64 }

// reachOf adds to intervals, by edge, how far down the edge a share stays at or above the risk
// share.
func reachOf(intervals map[int32][][2]float64, net *flow.Network, rate []float64, floor float64, edge int32, from, share float64) {
	if share >= floor {
		to := from + math.Log(share/floor)/rate[edge]
		intervals[edge] = append(intervals[edge], [2]float64{from, min(to, float64(net.Edges[edge].Length))})
	}
}

func totalLength(intervals map[int32][][2]float64) (m float64) {
	for _, all := range intervals {
		m += unionLength(all)
	}
	return m
}

// Follow agrees with the walker to 1e-9 on the mass balance, exposure, what is at risk and
// what is possible.
func TestFollowAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		s := DefaultSettings()
		s.ExposureBreaks = neverModerate
		const stands = 3
		sources := drawSources(rt, net, stands)
		got := Follow(net, Released{Stands: stands, Sources: sources}, s, 1)
		tr, _ := transport(net, s)

		all := map[int32][][2]float64{}
		var total Outcome
		for i := range stands {
			var balance Outcome
			risk, possible := map[int32][][2]float64{}, map[int32][][2]float64{}
			for _, src := range sources {
				if int(src.Stand) != i {
					continue
				}
				came := map[int32]*arrived{}
				w := walker{net: net.Net, t: tr, onEdge: func(edge int32, from geo.Meters, share, amount float64) {
					if came[edge] == nil {
						came[edge] = &arrived{from: float64(from)}
					}
					came[edge].sum += amount / float64(src.Amount)
					came[edge].best = max(came[edge].best, share)
				}}
				w.walk(src.Place, 1, float64(src.Amount))
				for edge, a := range came {
					reachOf(risk, net.Net, tr.Rate, float64(s.RiskShare), edge, a.from, a.sum)
					reachOf(all, net.Net, tr.Rate, float64(s.RiskShare), edge, a.from, a.sum)
					reachOf(possible, net.Net, tr.Rate, float64(s.RiskShare), edge, a.from, a.best)
				}
				balance.Released += src.Amount
				balance.Settled += w.balance.Settled
				balance.Held += w.balance.Held
				balance.Exposure += w.balance.Exposure
				balance.Left += w.balance.Left
			}
			o := got.Outcomes[i]
			if m := totalLength(risk); math.Abs(m/1000-float64(o.ReachKm)) > 1e-9 {
				rt.Fatalf("stand %d: reach %.12f km, every path gives %.12f", i, o.ReachKm, m/1000)
			}
			if m := totalLength(possible); math.Abs(m/1000-float64(o.PossibleKm)) > 1e-9 {
				rt.Fatalf("stand %d: possible %.12f km, every path gives %.12f", i, o.PossibleKm, m/1000)
			}
			o.ReachKm, o.PossibleKm, o.RiverKm, o.AloneKm, o.Reached = 0, 0, 0, 0, nil
			if diff := cmp.Diff(balance, o, approx); diff != "" {
				rt.Fatalf("stand %d: balance (-every path +got)\n%s", i, diff)
			}
			if sum := o.Settled + o.Held + o.Left; math.Abs(float64(sum-o.Released)) > float64(1e-9*max(1, o.Released)) {
				rt.Fatalf("stand %d: released %g, accounted for %g", i, o.Released, sum)
			}
			total.Released += balance.Released
			total.Settled += balance.Settled
			total.Held += balance.Held
			total.Left += balance.Left
		}
		want := Balance{Released: total.Released, Settled: total.Settled, Held: total.Held, Aged: total.Aged, Left: total.Left}
		if diff := cmp.Diff(want, got.Balance, approx); diff != "" {
			rt.Fatalf("balance: (-every path +got)\n%s", diff)
		}
		if m := totalLength(all); math.Abs(m/1000-float64(got.AtRiskKm)) > 1e-9 {
			rt.Fatalf("at risk %.12f km, every path gives %.12f", got.AtRiskKm, m/1000)
		}
	})
}

// neverModerate are breaks that no exposure exceeds, so that only single sources put stream at
// risk.
var neverModerate = [2]Amount{1e12, 2e12}

func unionLength(intervals [][2]float64) float64 {
	slices.SortFunc(intervals, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	var length, end float64
	end = math.Inf(-1)
	for _, iv := range intervals {
		if from := max(iv[0], end); iv[1] > from {
			length += iv[1] - from
			end = iv[1]
		}
	}
	return length
}

// The exposure of every piece is the sum over every path of every source, at the piece's upper end
// or at the source that raises it.
func TestExposureAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		s := DefaultSettings()
		sources := drawSources(rt, net, 3)
		got := Follow(net, Released{Stands: 3, Sources: sources}, s, 1)
		tr, _ := transport(net, s)
		for _, r := range got.Reaches {
			if !r.Class.AtRisk() && r.Exposure > s.ExposureBreaks[0]*(1+1e-9) {
				rt.Fatalf("exposure %g is called possible only", r.Exposure)
			}
			edge := net.Net.EdgesOf(r.Line)[0]
			length := float64(net.Net.Edges[edge].Length)
			from := length - float64(r.FromKm-net.Net.Edges[edge].OutletKm)*1000
			to := from + float64(r.LengthKm)*1000
			best := 0.0
			for _, at := range append(starts(sources, edge, from, to), from) {
				var amount float64
				for _, src := range sources {
					w := walker{net: net.Net, t: tr, onEdge: func(e int32, begin geo.Meters, _, a float64) {
						if e == edge && float64(begin) <= at+1e-6 {
							amount += a * math.Exp(-tr.Rate[e]*max(0, at-float64(begin)))
						}
					}}
					w.walk(src.Place, 1, float64(src.Amount))
				}
				best = max(best, amount)
			}
			if math.Abs(best-float64(r.Exposure)) > 1e-6*max(1, best) {
				rt.Fatalf("piece %g..%g m of edge %d: exposure %g, every path gives %g", from, to, edge, r.Exposure, best)
			}
			if s.class(r.Exposure) < r.Class {
				rt.Fatalf("exposure %g is called %d", r.Exposure, r.Class)
			}
		}
	})
}

// starts lists where on a piece a source lifts the exposure.
func starts(sources []Source, edge int32, from, to float64) []float64 {
	var out []float64
	for _, s := range sources {
		if at := float64(s.Place.Offset); s.Place.Edge == edge && at >= from && at < to-1e-6 {
			out = append(out, at)
		}
	}
	return out
}

// Metamorphic: another stand never reduces exposure or reach; a larger half-distance never shortens
// a reach; the number of workers changes nothing.
func TestFollowMonotone(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		sources := drawSources(rt, net, 3)
		s := DefaultSettings()
		all := Follow(net, Released{Stands: 3, Sources: sources}, s, 1)
		fewer := Follow(net, Released{Stands: 3, Sources: sources[1:]}, s, 1)
		if fewer.AtRiskKm > all.AtRiskKm+1e-9 {
			rt.Fatalf("a stand more shortened the reach: %g to %g km", fewer.AtRiskKm, all.AtRiskKm)
		}
		flood := s
		flood.FloodFactor = 1.5
		further := Follow(net, Released{Stands: 3, Sources: sources}, flood, 1)
		for i := range all.Outcomes {
			if all.Outcomes[i].PossibleKm < all.Outcomes[i].ReachKm-1e-9 {
				rt.Fatalf("stand %d: more at risk than possible", i)
			}
			if fewer.Outcomes[i].ReachKm > all.Outcomes[i].ReachKm+1e-9 {
				rt.Fatalf("stand %d: a source more shortened its reach", i)
			}
			if further.Outcomes[i].ReachKm < all.Outcomes[i].ReachKm-1e-9 {
				rt.Fatalf("stand %d: flood shortened its reach", i)
			}
		}
		if diff := cmp.Diff(all, Follow(net, Released{Stands: 3, Sources: sources}, s, 8), equateNaN, cmpopts.IgnoreUnexported(Drift{})); diff != "" {
			rt.Fatalf("8 workers: (-1 +8)\n%s", diff)
		}
	})
}

// equateNaN treats two NaN as equal, with or without a unit.
var equateNaN = cmp.Options{cmpopts.EquateNaNs(), equateNaNIn[geo.Kilometers](), equateNaNIn[geo.Hours](), equateNaNIn[Amount](), equateNaNIn[AmountKm]()}

func equateNaNIn[U ~float64]() cmp.Option {
	bothNaN := func(x, y U) bool { return math.IsNaN(float64(x)) && math.IsNaN(float64(y)) }
	return cmp.FilterValues(bothNaN, cmp.Comparer(bothNaN))
}
