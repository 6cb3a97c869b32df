package drift

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// TestOnward: half settles every km, so a reach is log2(20) km long. A stand releases at km 2 of a
// line of 12 km; lengths by hand.
func TestOnward(t *testing.T) {
	reach := geo.Kilometers(math.Log2(20))
	net := network(t, channel{id: "a", from: 1, to: 2, km: 12})
	d := Follow(net, Released{Stands: 2, Sources: []Source{{Stand: 1, Place: place(net, "a", 2), Amount: 1}}}, halfKilometre(), 1)
	for _, c := range []struct {
		name   string
		places []flow.Place
		want   Onward
	}{
		{"nowhere", nil, Onward{}},
		{"above the stand: the km between is clean", []flow.Place{place(net, "a", 1)}, Onward{ReachKm: reach, CleanKm: 1}},
		{"at the stand", []flow.Place{place(net, "a", 2)}, Onward{ReachKm: reach, Passing: []int32{1}}},
		{"a km below: the last km is clean", []flow.Place{place(net, "a", 3)}, Onward{ReachKm: reach, CleanKm: 1, Passing: []int32{1}}},
		{"at two places, one of them beyond the stand's reach", []flow.Place{place(net, "a", 6), place(net, "a", 7)},
			Onward{ReachKm: 1 + reach, CleanKm: 1 + reach - (2 + reach - 6), Passing: []int32{1}}},
		{"cut short by the outlet", []flow.Place{place(net, "a", 11)}, Onward{ReachKm: 1, CleanKm: 1}},
	} {
		got := d.Onward(net, halfKilometre(), [][]flow.Place{nil, c.places})
		if diff := cmp.Diff([]Onward{{}, c.want}, got, approxIn[geo.Kilometers](0, 1e-9), cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// TestOnwardNearest: of two stands above a place, the lower one has the larger share there.
func TestOnwardNearest(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 12})
	d := Follow(net, Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 1), Amount: 9}, {Stand: 1, Place: place(net, "a", 2), Amount: 1},
	}}, halfKilometre(), 1)
	got := d.Onward(net, halfKilometre(), [][]flow.Place{{place(net, "a", 3)}, {place(net, "a", 1.5)}})
	if diff := cmp.Diff([][]int32{{1}, {0}}, [][]int32{got[0].Passing, got[1].Passing}); diff != "" {
		t.Errorf("passing (-want +got):\n%s", diff)
	}
}

// TestOnwardAgainstFollow: on any network, the clean stream below a place is what one more stand
// there adds to the reach at risk.
func TestOnwardAgainstFollow(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		net := drawNetwork(r, t)
		sources := drawSources(r, net, 3)
		s := halfKilometre()
		s.ExposureBreaks = neverModerate // one more stand would also raise the amount from the others
		edge := int32(rapid.IntRange(0, net.Paths.Len()-1).Draw(r, "edge"))
		at := flow.Place{Edge: edge, Offset: net.Net.Edges[edge].Length * geo.Meters(rapid.Float64Range(0, 1).Draw(r, "along"))}
		before := Follow(net, Released{Stands: 4, Sources: sources}, s, 1)
		after := Follow(net, Released{Stands: 4, Sources: append(sources, Source{Stand: 3, Place: at, Amount: 1})}, s, 1)
		got := before.Onward(net, s, [][]flow.Place{{at}})[0]
		if want := after.AtRiskKm - before.AtRiskKm; math.Abs(float64(got.CleanKm-want)) > 1e-6 {
			r.Fatalf("clean %g km, a stand there adds %g", got.CleanKm, want)
		}
		if want := after.Outcomes[3].ReachKm; math.Abs(float64(got.ReachKm-want)) > 1e-6 {
			r.Fatalf("reach %g km, that of a stand there is %g", got.ReachKm, want)
		}
	})
}

// TestOnwardOfEquals: of stands with equal shares at a place, or releasing at the same place, the
// first counts.
func TestOnwardOfEquals(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 12})
	d := Follow(net, Released{Stands: 3, Sources: []Source{
		{Stand: 2, Place: place(net, "a", 1), Amount: 1}, {Stand: 1, Place: place(net, "a", 1), Amount: 9}, {Stand: 0, Place: place(net, "a", 0.5), Amount: 9},
	}}, halfKilometre(), 1)
	got := d.Onward(net, halfKilometre(), [][]flow.Place{{place(net, "a", 2)}, {place(net, "a", 0.75)}, {place(net, "a", 0.25)}})
	if diff := cmp.Diff([][]int32{{1}, {0}, nil}, [][]int32{got[0].Passing, got[1].Passing, got[2].Passing}, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("passing (-want +got):\n%s", diff)
	}
}
