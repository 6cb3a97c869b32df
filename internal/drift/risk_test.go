package drift

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// pieces describes the reaches of a batch, one line each.
func pieces(net *stream.Network, d Drift) []string {
	var out []string
	for _, r := range d.Reaches {
		word := [...]string{"possible", "low", "moderate", "high"}[r.Class-Possible]
		out = append(out, fmt.Sprintf("%s %.4f km %s, %d stands, first %d", net.Lines[r.Line].ID, r.LengthKm, word, r.Stands, r.NearestStand))
	}
	return out
}

// Half of what floats settles every km. Of one stand, a twentieth of the flow goes into b, the rest
// into c; they join after a km. By hand: at the divergence a half is afloat, so b carries 0.025,
// less than 0.05, and is only possible; below, everything floats together, a quarter, down to 0.05
// after log2(5) km. Without the rule for branches b would be at risk.
func TestBranchOfLittleFlow(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 1}, channel{id: "b", from: 2, to: 3, km: 1, share: 0.05},
		channel{id: "c", from: 2, to: 3, km: 1, share: 0.95}, channel{id: "d", from: 3, to: 4, km: 9})
	s := halfKilometre()
	s.ExposureBreaks = neverModerate
	released := Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 1}, {Stand: 1, Place: place(net, "b", 1), Amount: 0.001},
	}}
	got := Follow(net, released, s, 1)
	tail := math.Log2(20)
	if o := got.Outcomes[0]; math.Abs(float64(o.ReachKm)-(2+math.Log2(5))) > 1e-9 || math.Abs(float64(o.PossibleKm)-(3+tail-2)) > 1e-9 {
		t.Errorf("at risk %g, possible %g km; want %g, %g", o.ReachKm, o.PossibleKm, 2+math.Log2(5), 1+tail)
	}
	want := []string{
		"a 1.0000 km low, 1 stands, first 0", "b 1.0000 km possible, 1 stands, first 0", "c 1.0000 km low, 1 stands, first 0",
		fmt.Sprintf("d %.4f km low, 2 stands, first 1", tail), // the second stand is at its upper end
	}
	if diff := cmp.Diff(want, pieces(net, got)); diff != "" {
		t.Errorf("pieces: (-want +got)\n%s", diff)
	}
	// one fragment down the thin branch is enough: the stand at its end is linked
	if diff := cmp.Diff([]int32{1}, got.Outcomes[0].Reached); diff != "" {
		t.Errorf("reached: (-want +got)\n%s", diff)
	}
	if want := 1 + 1 + tail; math.Abs(float64(got.AtRiskKm)-want) > 1e-9 {
		t.Errorf("at risk %g km, want %g: possible stream is not", got.AtRiskKm, want)
	}
}

// A branch whose share of the flow is 0 carries nothing: it is not even possible, and a stand on it
// is not linked.
func TestBranchWithoutFlow(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 1}, channel{id: "b", from: 2, to: 3, km: 1, share: dryShare},
		channel{id: "c", from: 2, to: 3, km: 1, share: 1}, channel{id: "d", from: 3, to: 4, km: 9})
	s := halfKilometre()
	got := Follow(net, Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 1}, {Stand: 1, Place: place(net, "b", 0.5), Amount: 1},
	}}, s, 1)
	if o := got.Outcomes[0]; len(o.Reached) != 0 || math.Abs(float64(o.PossibleKm)-math.Log2(20)) > 1e-9 || math.Abs(float64(o.ReachKm)-math.Log2(20)) > 1e-9 {
		t.Errorf("%+v", o)
	}
}

// Ten stands of 16 in ten creeks, half settling every km, the risk share 0.1: by hand each one's
// reach ends in its creek after log2(10) = 3.32 km, and 1 of each arrives at the creek's end after
// 4. Together 10 are afloat there, 5 a km farther: down to the moderate break of 5 the stream is at
// risk from all together.
func TestManySmallStandsTogether(t *testing.T) {
	channels := []channel{{id: "z", from: 11, to: 12, km: 30}}
	released := Released{Stands: 10}
	for i := range 10 {
		channels = append(channels, channel{id: fmt.Sprint("c", i), from: i + 1, to: 11, km: 4})
	}
	net := network(t, channels...)
	for i := range 10 {
		released.Sources = append(released.Sources, Source{Stand: int32(i), Place: place(net, fmt.Sprint("c", i), 0), Amount: 16})
	}
	s := halfKilometre()
	s.RiskShare = 0.1 // each reach ends within its creek, after log2(10) = 3.32 km
	s.ExposureBreaks = [2]Amount{5, 100}
	got := Follow(net, released, s, 1)
	// at the creeks' end 1 of each is afloat: 10 together, 5 a km further down
	own := math.Log2(10)
	if want := 10*own + 1; math.Abs(float64(got.AtRiskKm)-want) > 1e-9 {
		t.Errorf("at risk %.9f km, want %.9f", got.AtRiskKm, want)
	}
	last := got.Reaches[len(got.Reaches)-1]
	if net.Lines[last.Line].ID != "z" || last.Class != Moderate || last.Stands != 0 || last.NearestStand != -1 || !math.IsNaN(float64(last.HoursFast)) {
		t.Errorf("%+v, want a km of z that no stand reaches alone", last)
	}
	if o := got.Outcomes[3]; math.Abs(float64(o.ReachKm)-own) > 1e-9 {
		t.Errorf("a stand's own reach is %g km, want %g", o.ReachKm, own)
	}
}

// A source at the lower end of a piece has no hours there: the hours are those of the stand above.
// And a stand above a dam that lets nothing pass gives no hours below it. By hand: 3.6 km an hour.
func TestHoursOfWhoArrives(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 3.6, barrier: stream.Dam}, channel{id: "b", from: 2, to: 3, km: 7.2})
	s := halfKilometre()
	s.HalfDistanceByOrder, s.VelocityByOrder = []geo.Kilometers{4}, []geo.MetersPerSecond{0.85}
	s.Pass = map[string]geo.Share{"dam": 0}
	s.ExposureBreaks = [2]Amount{0.95, 10}
	got := Follow(net, Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 1}, {Stand: 1, Place: place(net, "b", 3.6), Amount: 2},
	}}, s, 1)
	want := []string{"a 0.2960 km moderate, 1 stands, first 0", "a 3.3040 km low, 1 stands, first 0", "b 3.6000 km moderate, 1 stands, first 1"}
	if diff := cmp.Diff(want, pieces(net, got)); diff != "" {
		t.Errorf("pieces: (-want +got)\n%s", diff)
	}
	s.Pass["dam"] = 1
	got = Follow(net, Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 1}, {Stand: 1, Place: place(net, "b", 3.6), Amount: 2},
	}}, s, 1)
	// the source raises the class there: the piece above it ends where it enters
	above := got.Reaches[2]
	if above.NearestStand != 0 || math.Abs(float64(above.HoursMean)-2) > 1e-9 || math.Abs(float64(above.HoursFast)-0.89*2) > 1e-9 {
		t.Errorf("above the source: %+v, want 2 hours from stand 0", above)
	}
	below := got.Reaches[3]
	if below.NearestStand != 1 || math.Abs(float64(below.HoursMean)-1) > 1e-9 {
		t.Errorf("below it: %+v, want an hour from stand 1", below)
	}
}

// The age limit applies along a line in the same way as along the same line drawn as two: total
// exposure, classes and stream at risk are the same.
func TestAgeWithinALine(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		const km = 10.0
		cut := rapid.Float64Range(0.5, 9.5).Draw(rt, "cut")
		one := network(t, channel{id: "a", from: 1, to: 2, km: km})
		two := network(t, channel{id: "a", from: 1, to: 2, km: cut}, channel{id: "b", from: 2, to: 3, km: km - cut})
		s := halfKilometre()
		s.HalfDistanceByOrder = []geo.Kilometers{geo.Kilometers(rapid.Float64Range(2, 50).Draw(rt, "half distance"))}
		s.Viable = Days(rapid.Float64Range(0.02, 0.3).Draw(rt, "viable days"))
		s.ExposureBreaks = [2]Amount{0.3, 1}
		var whole, parted []Source
		for i := range rapid.IntRange(1, 5).Draw(rt, "sources") {
			at, amount := rapid.Float64Range(0, km).Draw(rt, "at"), rapid.Float64Range(0.1, 2).Draw(rt, "amount")
			whole = append(whole, Source{Stand: int32(i), Place: place(one, "a", at), Amount: Amount(amount)})
			src := Source{Stand: int32(i), Place: place(two, "a", at), Amount: Amount(amount)}
			if at > cut {
				src.Place = place(two, "b", at-cut)
			}
			parted = append(parted, src)
		}
		a, b := Follow(one, Released{Stands: 5, Sources: whole}, s, 1), Follow(two, Released{Stands: 5, Sources: parted}, s, 1)
		if math.Abs(float64(a.AtRiskKm-b.AtRiskKm)) > 1e-9 {
			rt.Fatalf("at risk %g km, as two lines %g", a.AtRiskKm, b.AtRiskKm)
		}
		for k := range 400 {
			at := geo.Kilometers(km * (float64(k) + 1/math.Pi) / 400) // away from any cut
			if x, y := classAt(a, at), classAt(b, at); x != y {
				rt.Fatalf("at river km %g class %d, as two lines %d", at, x, y)
			}
		}
		ignore := cmpopts.IgnoreFields(Outcome{}, "RiverKm")
		if diff := cmp.Diff(a.Outcomes, b.Outcomes, approx, ignore, cmpopts.EquateEmpty()); diff != "" {
			rt.Fatalf("outcomes: (-one +two)\n%s", diff)
		}
	})
}

// classAt returns the class at a river km, -2 where nothing arrives.
func classAt(d Drift, km geo.Kilometers) Class {
	for _, r := range d.Reaches {
		if km <= r.FromKm && km > r.ToKm {
			return r.Class
		}
	}
	return -2
}

// Fragments that become too old end within a line. Amount 1 from the top of 10 km at 3.6 km an
// hour, with a limit of one hour afloat: exposure ends 3.6 km down, by hand; the first to arrive
// takes 0.89 of the mean time, so the reach continues to 3.6/0.89.
func TestAgeEndsExposure(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 10})
	s := halfKilometre()
	s.HalfDistanceByOrder, s.VelocityByOrder, s.Viable = []geo.Kilometers{100}, []geo.MetersPerSecond{0.85}, 1.0/24
	s.ExposureBreaks = [2]Amount{0.1, 0.5}
	got := Follow(net, Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 1}}}, s, 1)
	want := []Reach{
		{FromKm: 10, ToKm: 6.4, LengthKm: 3.6, Exposure: 1, Class: High, Stands: 1},
		{FromKm: 6.4, ToKm: 10 - 3.6/0.89, LengthKm: 3.6/0.89 - 3.6, Exposure: 0, Class: Low, Stands: 1},
	}
	if diff := cmp.Diff(want, got.Reaches, approx, cmpopts.IgnoreFields(Reach{}, "Path", "HoursFast", "HoursMean", "Velocity")); diff != "" {
		t.Errorf("reaches: (-want +got)\n%s", diff)
	}
}

// The reach of a stand above a dam ends there, wherever it is and however long the line: 600 lines
// with odd lengths; by hand one reach ends at each dam.
func TestDamsAtTheEnd(t *testing.T) {
	missed := 0
	for i := range 600 {
		km := 0.3 + 1.7*math.Abs(math.Sin(float64(i)))
		net := network(t, channel{id: "a", from: 1, to: 2, km: km, barrier: stream.Dam}, channel{id: "b", from: 2, to: 3, km: 5})
		at := km * math.Abs(math.Cos(float64(i))) * 0.9
		s := halfKilometre()
		released := Released{Stands: 1, Sources: []Source{{Place: place(net, "a", at), Amount: 0.0001}}}
		got := Follow(net, released, s, 1)
		if got.Reaches[0].Barrier != "dam" {
			missed++
		}
		p := newEnsemble(net, s, Uncertain{Released: released, Setback: 30, Spread: DefaultSpread(), Workers: 1}, released.inFlowOrder())
		if len(p.single) != 1 {
			missed++
		}
	}
	if missed > 0 {
		t.Errorf("%d of 1200 times the dam was missed", missed)
	}
}
