package drift

import (
	"math"
	"testing"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// On one line of 10 km, by hand: against the flow, a unit at 6 km makes the integral of 2^-(6-x)
// upstream, as much as with the flow below a unit at 4 km, and nothing downstream.
func TestAgainstIsTheMirrorOfAfloat(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 10, order: 1})
	s := DefaultSettings()
	s.HalfDistanceByOrder = []geo.Kilometers{1}
	long := net.Net.Edges[0].Length
	pieces := func(cuts int) (out []flow.Piece) {
		for i := range cuts {
			at := func(i int) geo.Meters { return long * geo.Meters(i) / geo.Meters(cuts) }
			out = append(out, flow.Piece{From: at(i), To: at(i + 1)})
		}
		return out
	}(40)
	source := func(at geo.Meters) Released {
		return Released{Stands: 1, Sources: []Source{{Place: flow.Place{Offset: at}, Amount: 2}}}
	}
	up := Against(net, source(0.6*long), s, pieces)
	down := Afloat(net, source(0.4*long), s)
	mirror := down.ExposureOn(net, pieces)
	for i := range up {
		if want := mirror[len(mirror)-1-i]; math.Abs(float64(up[i]-want)) > float64(1e-9*(1+want)) {
			t.Errorf("piece %d: %g against the flow, %g with it", i, up[i], want)
		}
	}
	k := math.Ln2 / 1000
	top := 2 * (math.Exp(-k*float64(0.6*long-pieces[0].To)) - math.Exp(-k*0.6*float64(long))) / k / 1000
	if math.Abs(float64(up[0])-top) > 1e-9 {
		t.Errorf("the top has %g, by hand %g", up[0], top)
	}
	followed := Follow(net, source(0.4*long), s, 1)
	for i, want := range followed.ExposureOn(net, pieces) {
		if mirror[i] != want {
			t.Errorf("piece %d: %g afloat alone, %g as Follow has it", i, mirror[i], want)
		}
	}
}

// With half-distances twice as long, as much is left after twice the distance.
func TestScaledHalfDistances(t *testing.T) {
	s := DefaultSettings()
	if got := s.Scaled(2).HalfDistanceByOrder[2]; got != 2*s.HalfDistanceByOrder[2] || DefaultSettings().HalfDistanceByOrder[2] != s.HalfDistanceByOrder[2] {
		t.Errorf("%g km", float64(got))
	}
}

// A twentieth is left after 4.32 half-distances: a source may be that far upstream, but no farther
// than the head of the stream.
func TestUpstreamOfAPlace(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 10, order: 1})
	s := DefaultSettings()
	s.HalfDistanceByOrder = []geo.Kilometers{0.5}
	at := flow.Place{Offset: 0.9 * net.Net.Edges[0].Length}
	got := Upstream(net, at, 0.05, s)
	want := float64(at.Offset) - 500*math.Log2(20)
	if len(got) != 1 || got[0].To != at.Offset || math.Abs(float64(got[0].From)-want) > 1e-6 {
		t.Errorf("%v, want from %g", got, want)
	}
	s.HalfDistanceByOrder = []geo.Kilometers{5}
	if got := Upstream(net, at, 0.05, s); len(got) != 1 || got[0].From != 0 {
		t.Errorf("%v, want all above it", got)
	}
}
