package drift

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// pathEnd is what one source brings to an edge: where it starts to float there, its divided share
// summed over paths, the undivided share of the best path, and the travel times of the first and at
// the mean.
type pathEnd struct{ from, sum, best, fast, mean float64 }

// arrivals follows every path from a source, one at a time, and returns what arrives by edge.
func arrivals(net *flow.Network, t flow.Transport, times times, at flow.Place) map[int32]*pathEnd {
	out := map[int32]*pathEnd{}
	var walk func(at flow.Place, share, part, fast, mean float64)
	walk = func(at flow.Place, share, part, fast, mean float64) {
		a := out[at.Edge]
		if a == nil {
			a = &pathEnd{from: float64(at.Offset), fast: math.Inf(1)}
			out[at.Edge] = a
		}
		a.sum, a.best = a.sum+part, max(a.best, share)
		if fast < a.fast {
			a.fast, a.mean = fast, mean
		}
		edge := &net.Edges[at.Edge]
		rest := float64(edge.Length-at.Offset) / float64(edge.Length)
		passed := math.Exp(-t.Rate[at.Edge]*rest*float64(edge.Length)) * t.Pass[at.Edge]
		for _, next := range net.Downstream(at.Edge) {
			walk(flow.Place{Edge: next}, share*passed*t.EnterOf(next), part*passed*t.ShareOf(net, next)*t.EnterOf(next),
				fast+float64(times.fast[at.Edge])*rest, mean+float64(times.mean[at.Edge])*rest)
		}
	}
	walk(at, 1, 1, 0, 0)
	return out
}

// span is a stretch of an edge that a stand's fragments reach, with the travel times to its upper
// end.
type span struct{ from, to, fast, mean float64 }

// everyPlace applies the definitions at every place, path by path.
type everyPlace struct {
	net     *stream.Network
	t       flow.Transport
	times   times
	s       Settings
	sources []Source
	came    []map[int32]*pathEnd // by source
	lake    []int32              // by edge: its lake, -1 for none
}

func newEveryPlace(net *stream.Network, s Settings, sources []Source) *everyPlace {
	t, times := transport(net, s)
	m := &everyPlace{net: net, t: t, times: times, s: s, sources: sources, lake: make([]int32, len(net.On))}
	for e, on := range net.On {
		if m.lake[e] = -1; on >= 0 && net.Surfaces[on].Kind == stream.Lake {
			m.lake[e] = on
		}
	}
	for _, src := range sources {
		m.came = append(m.came, arrivals(net.Net, t, times, src.Place))
	}
	return m
}

// afloat is the amount of all sources at a place.
func (m *everyPlace) afloat(edge int32, at float64) float64 {
	sum := 0.0
	for i, came := range m.came {
		if a := came[edge]; a != nil && at >= a.from {
			sum += float64(m.sources[i].Amount) * a.sum * math.Exp(-m.t.Rate[edge]*(at-a.from))
		}
	}
	return sum
}

// spans returns the stretches of an edge where a stand's fragments may be: with the risk share of
// one source, divided or along the best path. A lake that is reached counts as a whole.
func (m *everyPlace) spans(stand, edge int32, divided bool) []span {
	on := func(edge int32) (out []span) {
		for i, came := range m.came {
			a := came[edge]
			if m.sources[i].Stand != stand || a == nil {
				continue
			}
			share := a.best
			if divided {
				share = a.sum
			}
			if share < float64(m.s.RiskShare) {
				continue
			}
			length := float64(m.net.Net.Edges[edge].Length)
			to := min(length, a.from+math.Log(share/float64(m.s.RiskShare))/m.t.Rate[edge])
			out = append(out, span{a.from, to, a.fast, a.mean})
		}
		return out
	}
	lake := m.lake[edge]
	if lake < 0 {
		return on(edge)
	}
	all := span{0, float64(m.net.Net.Edges[edge].Length), math.Inf(1), math.Inf(1)}
	for e, l := range m.lake {
		if l == lake {
			for _, s := range on(int32(e)) {
				if s.to > s.from { // a source where water leaves the lake reaches none of it
					all.fast, all.mean = min(all.fast, s.fast), min(all.mean, s.mean)
				}
			}
		}
	}
	if math.IsInf(all.fast, 1) {
		return nil
	}
	return []span{all}
}

// class returns the class of a place; ok is false outside every reach. sure is false within a metre
// of a change.
func (m *everyPlace) class(stands int, edge int32, at float64) (c Class, ok, sure bool) {
	sure = true
	risk, possible := false, false
	for stand := range int32(stands) {
		for _, divided := range []bool{true, false} {
			for _, s := range m.spans(stand, edge, divided) {
				in := at >= s.from && at <= s.to
				if math.Abs(at-s.from) < 1 || math.Abs(at-s.to) < 1 {
					sure = false
				}
				risk, possible = risk || in && divided, possible || in
			}
		}
	}
	amount := m.afloat(edge, at)
	most := amount
	if m.lake[edge] >= 0 { // above the break anywhere on a lake means above it everywhere on it
		for e, l := range m.lake {
			if l == m.lake[edge] {
				most = max(most, m.afloat(int32(e), 0))
				for _, src := range m.sources {
					if src.Place.Edge == int32(e) && src.Place.Offset < m.net.Net.Edges[e].Length {
						most = max(most, m.afloat(int32(e), float64(src.Place.Offset)))
					}
				}
			}
		}
	}
	for _, b := range m.s.ExposureBreaks {
		sure = sure && math.Abs(amount/float64(b)-1) > 1e-3 && math.Abs(most/float64(b)-1) > 1e-3
	}
	switch {
	case risk || most > float64(m.s.ExposureBreaks[0]):
		return m.s.class(Amount(amount)), true, sure
	case possible:
		return Possible, true, sure
	}
	return 0, false, sure
}

// TestReachesAtEveryPlace: drawn networks with braids, barriers and lakes. It checks the class at
// places all over them, whose reach covers each piece, which stand's fragments arrive first at its
// end and when, which stands can be reached, and the distance to the outlet.
func TestReachesAtEveryPlace(t *testing.T) {
	seen, drawn := map[string]int{}, 0
	rapid.Check(t, func(rt *rapid.T) {
		const stands = 4
		drawn++
		net := drawNetwork(rt, t)
		if rapid.Bool().Draw(rt, "lake") {
			first := rapid.IntRange(0, len(net.On)-1).Draw(rt, "first on the lake")
			net.Surfaces = []stream.Surface{{ID: "l", Kind: stream.Lake}}
			for e := range net.On {
				if net.On[e] = -1; e >= first && e <= first+rapid.IntRange(0, 2).Draw(rt, "more") {
					net.On[e] = 0
				}
			}
		}
		s := DefaultSettings()
		s.ExposureBreaks = [2]Amount{0.0473, 0.7871} // odd shares, so that no two ends coincide
		sources := drawSources(rt, net, stands)
		got := Follow(net, Released{Stands: stands, Sources: sources}, s, 1)
		m := newEveryPlace(net, s, sources)
		for e := range net.Net.Edges {
			edge := &net.Net.Edges[e]
			for k := range 23 {
				at := float64(edge.Length) * (float64(k) + 1/math.Phi) / 23
				want, on, sure := m.class(stands, int32(e), at)
				if !sure {
					continue
				}
				is, here := classOn(got, edge, geo.Meters(at))
				if here != on || on && is != want {
					rt.Fatalf("edge %d at %.1f m: class %d (%v), want %d (%v)", e, at, is, here, want, on)
				}
				if on {
					seen[[]string{"possible", "low", "moderate", "high"}[want+1]]++
				}
			}
		}
		for i := range got.Reaches {
			m.hold(rt, &got.Reaches[i], stands)
		}
		for stand := range int32(stands) {
			m.holdStand(rt, &got.Outcomes[stand], stand)
		}
	})
	for _, class := range []string{"possible", "low", "moderate", "high"} {
		if seen[class] == 0 && drawn >= 40 {
			t.Errorf("no place was %s in %d networks: they try too little", class, drawn)
		}
	}
}

// classOn returns the class of the piece that a place of an edge lies on.
func classOn(d Drift, edge *flow.Edge, at geo.Meters) (Class, bool) {
	km := edge.RiverKm(at)
	for _, r := range d.Reaches {
		if r.Line == edge.Line && km <= r.FromKm && km > r.ToKm {
			return r.Class, true
		}
	}
	return 0, false
}

// hold checks whose reach a piece lies on.
func (m *everyPlace) hold(t *rapid.T, r *Reach, stands int) {
	e := m.net.Net.EdgesOf(r.Line)[0]
	edge := &m.net.Net.Edges[e]
	from := float64(edge.Length) - float64((r.FromKm - edge.OutletKm).Meters())
	to := from + float64(r.LengthKm.Meters())
	// the line is drawn longer or shorter than its recorded length, and so is the piece
	drawn, all := earth.LengthsAlong(r.Path), earth.LengthsAlong(m.net.Paths.At(int(e)))
	if want := float64(all[len(all)-1]) * (to - from) / float64(edge.Length); math.Abs(float64(drawn[len(drawn)-1])-want) > 0.01 {
		t.Fatalf("%.1f to %.1f m of edge %d is drawn %.3f m long, want %.3f", from, to, e, drawn[len(drawn)-1], want)
	}
	count, nearest, fast, mean := 0, int32(-1), math.Inf(1), math.NaN()
	first := map[int32]float64{}
	for stand := range int32(stands) {
		covers := false
		for _, s := range m.spans(stand, e, r.Class.AtRisk()) {
			if math.Abs(s.from-to) < 1e-3 || math.Abs(s.to-from) < 1e-3 {
				continue // it ends where the piece begins
			}
			if s.from >= to || s.to <= from {
				continue
			}
			covers = true
			if s.to < to-1e-6 {
				continue
			}
			part := (to - s.from) / float64(edge.Length)
			if m.lake[e] >= 0 { // the wind may take it across in no time
				part = 0
			}
			f := s.fast + float64(m.times.fast[e])*part
			if f < fast-1e-9 {
				nearest, fast, mean = stand, f, s.mean+float64(m.times.mean[e])*part
			}
			if before, met := first[stand]; !met || f < before {
				first[stand] = f
			}
		}
		if covers {
			count++
		}
	}
	if f, also := first[r.NearestStand]; also && f < fast+1e-9 { // at the same time, except for rounding
		nearest = r.NearestStand
	}
	if r.Stands != count || r.NearestStand != nearest {
		t.Fatalf("%.1f to %.1f m of edge %d, class %d: %d stands, first %d; want %d, first %d", from, to, e, r.Class, r.Stands, r.NearestStand, count, nearest)
	}
	if nearest >= 0 && (math.Abs(float64(r.HoursFast)-fast) > 1e-6 || math.Abs(float64(r.HoursMean)-mean) > 1e-6) {
		t.Fatalf("%.1f to %.1f m of edge %d: %g and %g hours, want %g and %g", from, to, e, r.HoursFast, r.HoursMean, fast, mean)
	}
}

// holdStand checks the other results of a stand.
func (m *everyPlace) holdStand(t *rapid.T, o *Outcome, stand int32) {
	var reached []int32
	km := math.Inf(1)
	for i, src := range m.sources {
		if src.Stand == stand {
			km = min(km, float64(m.net.Net.Edges[src.Place.Edge].RiverKm(src.Place.Offset)))
			continue
		}
		for _, s := range m.spans(stand, src.Place.Edge, false) {
			if at := float64(src.Place.Offset); math.Abs(at-s.to) < 1e-6 && s.to < float64(m.net.Net.Edges[src.Place.Edge].Length)-1e-6 {
				return // at the very end of the reach
			} else if at >= s.from && at <= s.to && s.to > s.from { // not at the sea, from where nothing floats
				reached = append(reached, m.sources[i].Stand)
			}
		}
	}
	slices.Sort(reached)
	if reached = slices.Compact(reached); !slices.Equal(reached, o.Reached) {
		t.Fatalf("stand %d comes to %v, want %v", stand, o.Reached, reached)
	}
	if math.IsInf(km, 1) != math.IsNaN(float64(o.RiverKm)) || !math.IsInf(km, 1) && math.Abs(km-float64(o.RiverKm)) > 1e-9 {
		t.Fatalf("stand %d: %g km to the sea, want %g", stand, o.RiverKm, km)
	}
}
