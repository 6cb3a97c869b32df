package flow

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestOptionsOutOfRange: values at the limits are accepted.
func TestOptionsOutOfRange(t *testing.T) {
	nan := math.NaN()
	for o, want := range map[*Options]bool{
		{Snap: 1, Workers: 1}: true, {}: true, {Snap: 1000, CloseGap: 100}: true, {Snap: -0.1}: false, {Snap: 1000.1}: false,
		{CloseGap: -0.1}: false, {CloseGap: 100.1}: false, {Workers: -1}: false, {Snap: meters(nan)}: false,
	} {
		if err := o.Validate(); (err == nil) != want {
			t.Errorf("%+v: %v", *o, err)
		}
	}
	if o := DefaultOptions(); o != (Options{Snap: 1, Workers: 1}) {
		t.Errorf("%+v", o)
	}
}

// TestTransportOutOfRange: there must be one value in range for every edge; where shares at a node
// leave less than rounding, nothing stays; by hand.
func TestTransportOutOfRange(t *testing.T) {
	n, _ := Build([]Line{plain("a", orb.Point{0, 0.01}, orb.Point{0, 0}), plain("b", orb.Point{0, 0}, orb.Point{0.01, -0.01}), plain("c", orb.Point{0, 0}, orb.Point{-0.01, -0.01})}, DefaultOptions())
	all := func(x float64) []float64 { return []float64{x, x, x} }
	hours := func(x geo.Hours) []geo.Hours { return []geo.Hours{x, x, x} }
	for name, test := range map[string]struct {
		t    Transport
		want bool
	}{
		"good": {Transport{Rate: all(0), Pass: all(1)}, true}, "all of it": {Transport{Rate: all(1), Pass: all(0), Enter: all(1), Share: all(0.5), Hours: hours(0), Slow: hours(0)}, true},
		"too few rates": {Transport{Rate: []float64{1}, Pass: all(1)}, false}, "too few passes": {Transport{Rate: all(1), Pass: []float64{1}}, false}, "too few that enter": {Transport{Rate: all(1), Pass: all(1), Enter: []float64{1}}, false},
		"too few shares": {Transport{Rate: all(1), Pass: all(1), Share: []float64{1}}, false}, "too few hours": {Transport{Rate: all(1), Pass: all(1), Hours: []geo.Hours{1}}, false},
		"below 0 enters": {Transport{Rate: all(1), Pass: all(1), Enter: all(-0.1)}, false}, "more than all enters": {Transport{Rate: all(1), Pass: all(1), Enter: all(1.1)}, false},
		"a rate below 0": {Transport{Rate: all(-1), Pass: all(1)}, false}, "no rate": {Transport{Rate: all(math.NaN()), Pass: all(1)}, false}, "passes below 0": {Transport{Rate: all(1), Pass: all(-0.1)}, false},
		"more than all passes": {Transport{Rate: all(1), Pass: all(1.1)}, false}, "hours below 0": {Transport{Rate: all(1), Pass: all(1), Hours: hours(-1)}, false},
	} {
		if err := test.t.Validate(n); (err == nil) != test.want {
			t.Errorf("%s: %v", name, err)
		}
	}
	var part int32 = -1
	for i := range n.Edges {
		if n.Edges[i].Line == 0 {
			part = n.Edges[i].To
		}
	}
	for each, want := range map[float64]float64{0.5: 0, 0.4: 0.2, 0.5 - 1e-10: 0, 0: 1} {
		if got := (Transport{Share: all(each)}).stays(n, part); math.Abs(got-want) > 1e-12 {
			t.Errorf("of twice %g stay %g, want %g", each, got, want)
		}
	}
	if got := (Transport{}).stays(n, part); got != 0 {
		t.Errorf("%g stay where no shares are told", got)
	}
	if (Transport{}).EnterOf(1) != 1 || (Transport{Enter: all(0.25)}).EnterOf(2) != 0.25 {
		t.Error("what enters")
	}
}
