package drift

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// Two stands on a line of 40 km, half settling every km: the exposure of an amount is amount / k =
// amount x 1/ln 2 km, less the tail; the lower stand's reach begins a km below the upper one's. By
// hand.
func TestCurve(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 40})
	got := Follow(net, Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 2},
		{Stand: 1, Place: place(net, "a", 1), Amount: 1},
	}}, halfKilometre(), 1)
	reach, unit := geo.Kilometers(math.Log2(20)), 1/math.Ln2
	for i, want := range []Outcome{{Exposure: AmountKm(2 * unit), AloneKm: 1}, {Exposure: AmountKm(unit), AloneKm: 1}} {
		if o := got.Outcomes[i]; math.Abs(float64(o.Exposure-want.Exposure)) > 1e-9 || math.Abs(float64(o.AloneKm-want.AloneKm)) > 1e-9 {
			t.Errorf("stand %d: exposure %g, alone %g km; want %g, %g", i, o.Exposure, o.AloneKm, want.Exposure, want.AloneKm)
		}
	}
	upperFirst := []Step{{Stand: 0, Treat: true, Exposure: AmountKm(2 * unit), FreedKm: 1}, {Stand: 1, Treat: true, Exposure: AmountKm(3 * unit), FreedKm: reach + 1}}
	if diff := cmp.Diff(upperFirst, got.Curve([]int32{0, 1}, every), approx); diff != "" {
		t.Errorf("upper first: (-want +got)\n%s", diff)
	}
	lowerFirst := []Step{{Stand: 1, Treat: true, Exposure: AmountKm(unit), FreedKm: 1}, {Stand: 0, Treat: true, Exposure: AmountKm(3 * unit), FreedKm: reach + 1}}
	if diff := cmp.Diff(lowerFirst, got.Curve([]int32{1, 0}, every), approx); diff != "" {
		t.Errorf("lower first: (-want +got)\n%s", diff)
	}
}

func every(int32) geo.Share { return 1 }

// A stand already treated removes nothing, and its reach is not freed.
func TestCurveOfTreatedStands(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 40})
	got := Follow(net, Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 2},
		{Stand: 1, Place: place(net, "a", 1), Amount: 1},
	}}, halfKilometre(), 1)
	want := []Step{{Stand: 0}, {Stand: 1, Treat: true, Exposure: 1 / math.Ln2, FreedKm: 1}}
	if diff := cmp.Diff(want, got.Curve([]int32{0, 1}, func(s int32) geo.Share { return geo.Share(s) }), approx); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// What treating a stand alone removes is the difference made by leaving it out, in reach and in
// exposure; the curve ends with nothing left.
func TestCurveAgainstLeavingOut(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		const stands = 3
		sources := drawSources(rt, net, stands)
		s := DefaultSettings()
		s.ExposureBreaks = neverModerate // with the risk from several together, leaving one out may free more or less
		all := Follow(net, Released{Stands: stands, Sources: sources}, s, 1)
		var total float64
		for i := range int32(stands) {
			total += float64(all.Outcomes[i].Exposure)
			rest := slices.DeleteFunc(slices.Clone(sources), func(s Source) bool { return s.Stand == i })
			without := Follow(net, Released{Stands: stands, Sources: rest}, s, 1)
			if gone := all.AtRiskKm - without.AtRiskKm; math.Abs(float64(gone-all.Outcomes[i].AloneKm)) > 1e-9 {
				rt.Fatalf("stand %d: alone %.12f km, leaving it out frees %.12f", i, all.Outcomes[i].AloneKm, gone)
			}
		}
		order := []int32{2, 0, 1}
		steps := all.Curve(order, every)
		left := slices.Clone(sources)
		for at, step := range steps {
			left = slices.DeleteFunc(left, func(s Source) bool { return s.Stand == order[at] })
			after := Follow(net, Released{Stands: stands, Sources: left}, s, 1)
			if math.Abs(float64(all.AtRiskKm-after.AtRiskKm-step.FreedKm)) > 1e-9 {
				rt.Fatalf("step %d: freed %.12f km, following the rest says %.12f", at, step.FreedKm, all.AtRiskKm-after.AtRiskKm)
			}
		}
		if last := steps[stands-1]; math.Abs(float64(last.Exposure)-total) > 1e-9*max(1, total) {
			rt.Fatalf("all treated but exposure %g of %g taken away", last.Exposure, total)
		}
	})
}
