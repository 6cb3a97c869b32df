package drift

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// drawDistances draws settings with a half-distance for each order.
func drawDistances(t *rapid.T) Settings {
	s := DefaultSettings()
	for i := range s.HalfDistanceByOrder {
		s.HalfDistanceByOrder[i] = geo.Kilometers(rapid.Float64Range(0.1, 3).Draw(t, "half-distance"))
	}
	return s
}

// cuts draws pieces of edges that together are all of the network, sorted by edge.
func cuts(t *rapid.T, net *stream.Network) (out []flow.Piece) {
	for e := range net.Net.Edges {
		at := net.Net.Edges[e].Length * geo.Meters(rapid.Float64Range(0, 1).Draw(t, "cut"))
		out = append(out, flow.Piece{Edge: int32(e), To: at}, flow.Piece{Edge: int32(e), From: at, To: net.Net.Edges[e].Length})
	}
	return out
}

// TestAgainstEveryPathUpstream: what spreads upstream from each source along each path, an equal part
// into each stream where they meet, summed over every piece: in closed form, path by path.
func TestAgainstEveryPathUpstream(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		s := drawDistances(rt)
		sources := drawSources(rt, net, 3)
		pieces := cuts(rt, net)
		want := make([]float64, len(pieces))
		var up func(edge int32, from, amount float64)
		up = func(edge int32, from, amount float64) {
			rate := math.Ln2 / 1000 / float64(s.HalfDistanceByOrder[min(net.Order[edge], len(s.HalfDistanceByOrder))-1])
			for i, p := range pieces {
				if p.Edge != edge {
					continue
				}
				low, high := float64(p.From), min(float64(p.To), from)
				if low < high { // the integral of amount e^-rate(from - x), in km
					want[i] += amount / rate / 1000 * (math.Exp(-rate*(from-high)) - math.Exp(-rate*(from-low)))
				}
			}
			in := net.Net.In(net.Net.Edges[edge].From)
			for _, above := range in {
				up(above, float64(net.Net.Edges[above].Length), amount*math.Exp(-rate*from)/float64(len(in)))
			}
		}
		for _, src := range sources {
			up(src.Place.Edge, float64(src.Place.Offset), float64(src.Amount))
		}
		got := Against(net, Released{Stands: 3, Sources: sources}, s, pieces)
		for i := range want {
			if math.Abs(float64(got[i])-want[i]) > 1e-9*(1+want[i]) {
				rt.Fatalf("piece %+v: %v, every path gives %v", pieces[i], got[i], want[i])
			}
		}
	})
}

// TestUpstreamAgainstEveryPath: the stream above a place from which a share of a release is left there by
// the best path, path by path.
func TestUpstreamAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		s := drawDistances(rt)
		edge := int32(rapid.IntRange(0, len(net.Net.Edges)-1).Draw(rt, "edge"))
		at := flow.Place{Edge: edge, Offset: net.Net.Edges[edge].Length * geo.Meters(rapid.Float64Range(0.01, 1).Draw(rt, "along"))}
		share := rapid.Float64Range(0.01, 0.6).Draw(rt, "share")
		from := map[int32]float64{} // by edge: the uppermost place
		var up func(edge int32, lower, left float64)
		up = func(edge int32, lower, left float64) {
			rate := s.rate(net.Order[edge])
			top := max(0, lower-left/float64(rate))
			if old, met := from[edge]; !met || top < old {
				from[edge] = top
			}
			if left -= float64(rate) * lower; left > 0 {
				for _, above := range net.Net.In(net.Net.Edges[edge].From) {
					up(above, float64(net.Net.Edges[above].Length), left)
				}
			}
		}
		up(edge, float64(at.Offset), -math.Log(share))
		got := Upstream(net, at, geo.Share(share), s)
		for e, top := range from { // a piece of no length may be there or not
			there := slices.ContainsFunc(got, func(p flow.Piece) bool { return p.Edge == e })
			if to := float64(net.Net.Edges[e].Length); !there && e != edge && to-top > 1e-6 {
				rt.Fatalf("%v, every path gives %v", got, from)
			}
		}
		if got[0].Edge != edge {
			rt.Fatalf("%v does not begin at the place", got)
		}
		for _, p := range got {
			to := net.Net.Edges[p.Edge].Length
			if p.Edge == edge {
				to = at.Offset
			}
			want, met := from[p.Edge]
			if !met && p.To-p.From < 1e-6 {
				continue
			}
			if !met || p.To != to || math.Abs(float64(p.From)-want) > 1e-6 {
				rt.Fatalf("%+v, every path gives from %v to %v", p, want, to)
			}
		}
	})
}

// TestWorthAgainstEveryPath: what each stand's fragments are worth, path by path: on each edge the
// integral of what is afloat times the largest weight of the stretches there, or the base.
func TestWorthAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		s := drawDistances(rt)
		const stands = 3
		sources := drawSources(rt, net, stands)
		base := rapid.SampledFrom([]float64{0, 1, 0.3}).Draw(rt, "base")
		stretches := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Weighted {
			edge := rapid.IntRange(0, len(net.Net.Edges)-1).Draw(t, "edge")
			a, b := rapid.IntRange(0, 9).Draw(t, "from"), rapid.IntRange(1, 10).Draw(t, "long")
			length := net.Net.Edges[edge].Length
			return Weighted{Edge: int32(edge), From: length * geo.Meters(a) / 10, To: length * geo.Meters(min(10, a+b)) / 10, Weight: Factor(rapid.IntRange(0, 4).Draw(t, "weight"))}
		}), 0, 6).Draw(rt, "stretches")
		tr, _ := transport(net, s)
		want := make([]float64, stands)
		for _, src := range sources {
			w := walker{net: net.Net, t: tr, onEdge: func(edge int32, from geo.Meters, _, amount float64) {
				length, rate := net.Net.Edges[edge].Length, tr.Rate[edge]
				ends := []geo.Meters{from, length}
				for _, one := range stretches {
					if one.Edge == edge {
						ends = append(ends, max(from, one.From), max(from, one.To))
					}
				}
				slices.Sort(ends)
				for i := 1; i < len(ends); i++ {
					a, b := ends[i-1], ends[i]
					weight, covered := 0.0, false
					for _, one := range stretches {
						if one.Edge == edge && one.From <= a && b <= one.To {
							weight, covered = max(weight, float64(one.Weight)), true
						}
					}
					if !covered {
						weight = base
					}
					want[src.Stand] += weight * amount / rate / 1000 * (math.Exp(-rate*float64(a-from)) - math.Exp(-rate*float64(b-from)))
				}
			}}
			w.walk(src.Place, 1, float64(src.Amount))
		}
		got := Worth(net, s, Released{Stands: stands, Sources: sources}, Factor(base), stretches)
		for i := range want {
			if math.Abs(float64(got[i])-want[i]) > 1e-9*(1+want[i]) {
				rt.Fatalf("stand %d is worth %v, every path gives %v; stretches %v", i, got[i], want[i], stretches)
			}
		}
	})
}

// TestWhoPassesAPlace: whether a place is at risk, whether a stand's fragments pass it, and which stand's
// share there is the largest, path by path, at the ends of edges and at sources too: a place where a reach begins or
// ends is on it.
func TestWhoPassesAPlace(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		s := drawDistances(rt)
		s.ExposureBreaks = neverModerate
		const stands = 3
		sources := drawSources(rt, net, stands)
		d := Follow(net, Released{Stands: stands, Sources: sources}, s, 1)
		tr, _ := transport(net, s)
		floor := float64(s.RiskShare)
		for e := range net.Net.Edges {
			edge, length := int32(e), float64(net.Net.Edges[e].Length)
			at := []float64{0, length, length * rapid.Float64Range(0, 1).Draw(rt, "at")}
			for _, src := range sources {
				if src.Place.Edge == edge {
					at = append(at, float64(src.Place.Offset))
				}
			}
			for _, x := range at {
				var passed [stands]bool
				unclear := false
				for _, src := range sources {
					come, from, reached := 0.0, 0.0, false
					w := walker{net: net.Net, t: tr, onEdge: func(on int32, begin geo.Meters, _, amount float64) {
						if on == edge && float64(begin) <= x {
							come, from, reached = come+amount/float64(src.Amount), float64(begin), true
						}
					}}
					w.walk(src.Place, 1, float64(src.Amount))
					if share := come * math.Exp(-tr.Rate[e]*(x-from)); reached {
						unclear = unclear || math.Abs(share-floor) < 1e-9 || math.Abs(come-floor) < 1e-9
						passed[src.Stand] = passed[src.Stand] || share >= floor
					}
				}
				if unclear {
					continue
				}
				place := flow.Place{Edge: edge, Offset: geo.Meters(x)}
				any := false
				for stand, is := range passed {
					// a reach of no length, of a source at the end of an edge, is nobody's
					only := slices.ContainsFunc(sources, func(src Source) bool { return src.Stand == int32(stand) && src.Place == place && x == length })
					if got := d.Passed(place, func(i int32) bool { return i == int32(stand) }); got != is && !only {
						rt.Fatalf("%v passes stand %d: %v, every path gives %v", place, stand, got, is)
					}
					any = any || is && !only
					if only && is {
						unclear = true
					}
				}
				if got := d.AtRisk(place); got != any && !unclear {
					rt.Fatalf("%v at risk: %v, every path gives %v", place, got, any)
				}
			}
		}
	})
}

// TestUpstreamOfABraid: a stream parts and joins again, 400 m one way and 900 m the other, and half settles
// in 500 m. From 100 m below the join an eighth is left 1500 m up, by the shorter way: 1000 m above the parting. The
// longer way is all of it within that, and the stream above counts once. By hand; which way is digitised first, and so
// looked at first, does not matter.
func TestUpstreamOfABraid(t *testing.T) {
	for _, km := range [][2]float64{{0.4, 0.9}, {0.9, 0.4}} {
		net := network(t, channel{id: "above", from: 1, to: 2, km: 3, order: 1}, channel{id: "b", from: 2, to: 3, km: km[0], order: 1},
			channel{id: "c", from: 2, to: 3, km: km[1], order: 1}, channel{id: "below", from: 3, to: 4, km: 2, order: 1})
		s := DefaultSettings()
		s.HalfDistanceByOrder = []geo.Kilometers{0.5}
		want := map[string][2]float64{"below": {0, 100}, "b": {0, km[0] * 1000}, "c": {0, km[1] * 1000}, "above": {2000, 3000}}
		got := Upstream(net, place(net, "below", 0.1), 0.125, s)
		if len(got) != len(want) {
			t.Errorf("%v km: %v", km, got)
		}
		for _, p := range got {
			if w := want[net.Lines[net.Net.Edges[p.Edge].Line].ID]; math.Abs(float64(p.From)-w[0]) > 1e-6 || math.Abs(float64(p.To)-w[1]) > 1e-6 {
				t.Errorf("%v km: %+v, want %v", km, p, w)
			}
		}
	}
}
