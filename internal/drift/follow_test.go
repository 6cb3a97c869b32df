package drift

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// channel is a line of a test network: nodes by number, length in km.
type channel struct {
	id       string
	from, to int
	km       float64
	order    int
	share    float64
	barrier  stream.Barrier
}

// dryShare is a recorded share of 0.
const dryShare = -1

// network connects channels. Lengths are recorded, so that closed forms are exact; node n is at (0,
// -36 - n/100).
func network(t testing.TB, channels ...channel) *stream.Network {
	t.Helper()
	nan := math.NaN()
	at := func(node int) orb.Point { return orb.Point{0.001 * float64(node*node%7), -36 - 0.01*float64(node)} }
	lines := make([]stream.Centerline, len(channels))
	for i, c := range channels {
		middle := orb.Point{0.5*(at(c.from)[0]+at(c.to)[0]) + 0.0005*float64(i+1), 0.5 * (at(c.from)[1] + at(c.to)[1])}
		lines[i] = stream.Centerline{
			ID: c.id, Path: orb.LineString{at(c.from), middle, at(c.to)},
			FromNode: fmt.Sprint(c.from), ToNode: fmt.Sprint(c.to), Length: geo.Meters(c.km * 1000),
			Order: c.order, FlowShare: geo.Share(nan), Sequence: nan, MeanVelocity: geo.MetersPerSecond(nan), Drainage: geo.SquareKilometers(nan), Discharge: geo.CubicMetersPerSecond(nan),
			MeanDischarge: geo.CubicMetersPerSecond(nan), Slope: nan, LocalArea: geo.SquareKilometers(nan), Barrier: c.barrier, BarrierPass: geo.Share(nan),
		}
		if c.share != 0 {
			lines[i].FlowShare = geo.Share(max(0, c.share))
		}
	}
	net, findings := stream.Connect(lines, nil, nil, flow.Options{Snap: 1})
	for _, f := range findings {
		// lengths and orders are recorded as the test needs them, whatever the lines are
		if !slices.Contains([]string{"network-dangle", "network-length-differs", "network-order-differs"}, f.Rule.Code) {
			t.Fatalf("test network: %s: %s", f.Rule.Code, f.Message)
		}
	}
	return net
}

// place is a spot on a line, km from its upper end.
func place(net *stream.Network, line string, km float64) flow.Place {
	for i := range net.Lines {
		if net.Lines[i].ID == line {
			return flow.Place{Edge: net.Net.EdgesOf(int32(i))[0], Offset: geo.Meters(km * 1000)}
		}
	}
	panic("no line " + line)
}

// halfKilometre makes half of what floats settle every km, for every order.
func halfKilometre() Settings {
	s := DefaultSettings()
	s.HalfDistanceByOrder = []geo.Kilometers{1}
	return s
}

// approx compares floats, with or without a unit.
var approx = cmp.Options{cmpopts.EquateApprox(1e-9, 1e-12), approxIn[geo.Kilometers](1e-9, 1e-12), approxIn[geo.Hours](1e-9, 1e-12), approxIn[Amount](1e-9, 1e-12), approxIn[AmountKm](1e-9, 1e-12)}

func approxIn[U ~float64](fraction, margin float64) cmp.Option {
	return cmp.Comparer(func(x, y U) bool {
		return cmp.Equal(float64(x), float64(y), cmpopts.EquateApprox(fraction, margin))
	})
}

// Expected numbers derived by hand: half of what floats settles every km.
func TestFollowClosedForms(t *testing.T) {
	reach := geo.Kilometers(math.Log2(20)) // 5 % is left after log2(20) half-distances
	tests := []struct {
		name     string
		channels []channel
		sources  map[string]float64 // line -> km, one stand of amount 1
		want     Outcome
	}{
		{
			"a line of 10 km",
			[]channel{{id: "a", from: 1, to: 2, km: 10}},
			map[string]float64{"a": 0},
			Outcome{Released: 1, Settled: Amount(1 - math.Exp2(-10)), Left: Amount(math.Exp2(-10)), ReachKm: reach, RiverKm: 10},
		},
		{
			"a source midway on a short line",
			[]channel{{id: "a", from: 1, to: 2, km: 3}},
			map[string]float64{"a": 1},
			Outcome{Released: 1, Settled: 0.75, Left: 0.25, ReachKm: 2, RiverKm: 2},
		},
		{
			"a Y: both arms reach the trunk, counted once",
			[]channel{{id: "a", from: 1, to: 3, km: 1}, {id: "b", from: 2, to: 3, km: 2}, {id: "c", from: 3, to: 4, km: 9}},
			map[string]float64{"a": 0, "b": 0},
			Outcome{
				Released: 2, Settled: Amount(2 - math.Exp2(-10) - math.Exp2(-11)), Left: Amount(math.Exp2(-10) + math.Exp2(-11)),
				ReachKm: 1 + 2 + (reach - 1), RiverKm: 10,
			},
		},
		{
			"a braid: quantity divides 3 to 1",
			[]channel{
				{id: "a", from: 1, to: 2, km: 1},
				{id: "b", from: 2, to: 3, km: 1, share: 0.75},
				{id: "c", from: 2, to: 3, km: 2, share: 0.25},
				{id: "d", from: 3, to: 4, km: 1},
			},
			map[string]float64{"a": 0},
			// 0.5 x 0.25 = 0.125 enters c, and falls to 0.05 after log2(2.5) km
			Outcome{
				Released: 1, Left: 0.75*0.125 + 0.25*0.0625, Settled: 1 - 0.75*0.125 - 0.25*0.0625,
				ReachKm: 1 + 1 + geo.Kilometers(math.Log2(2.5)) + 1, PossibleKm: 1 + 1 + 2 + 1, RiverKm: 3,
			},
		},
		{
			"two dams in a chain",
			[]channel{
				{id: "a", from: 1, to: 2, km: 1, barrier: stream.Dam},
				{id: "b", from: 2, to: 3, km: 1, barrier: stream.Dam},
				{id: "c", from: 3, to: 4, km: 1},
			},
			map[string]float64{"a": 0},
			// afloat: .5 at the dam, .15 past it, .075 at the second, .0225 past it
			Outcome{Released: 1, Settled: 0.5 + 0.075 + 0.01125, Held: 0.35 + 0.0525, Left: 0.01125, ReachKm: 2, RiverKm: 3},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			net := network(t, tt.channels...)
			released := Released{Stands: 1}
			for line, km := range tt.sources {
				released.Sources = append(released.Sources, Source{Place: place(net, line, km), Amount: 1})
			}
			s := halfKilometre()
			s.ExposureBreaks = neverModerate
			got := Follow(net, released, s, 1)
			tt.want.PossibleKm = max(tt.want.PossibleKm, tt.want.ReachKm)
			if diff := cmp.Diff(tt.want, got.Outcomes[0], approx, cmpopts.IgnoreFields(Outcome{}, "Exposure", "AloneKm", "Reached")); diff != "" {
				t.Errorf("outcome: (-want +got)\n%s", diff)
			}
			if math.Abs(float64(got.AtRiskKm-tt.want.ReachKm)) > 1e-9 {
				t.Errorf("at risk %g km, want %g", got.AtRiskKm, tt.want.ReachKm)
			}
			want := Balance{Released: tt.want.Released, Settled: tt.want.Settled, Held: tt.want.Held, Left: tt.want.Left}
			if diff := cmp.Diff(want, got.Balance, approx); diff != "" {
				t.Errorf("balance: (-want +got)\n%s", diff)
			}
		})
	}
}

// Leaf drift, Am. Midl. Nat. 100(1):217-222 (1978): a mean drift of 192 m is
// 99 % retained at 886 m as printed, one of 226 m at 1040 m; within 0.5 %.
func TestFollowLeafDrift(t *testing.T) {
	for _, tt := range []struct{ mean, retained float64 }{{192, 886}, {226, 1040}} {
		s := DefaultSettings()
		s.HalfDistanceByOrder = []geo.Kilometers{geo.Kilometers(tt.mean * math.Ln2 / 1000)}
		s.RiskShare = 0.01
		net := network(t, channel{id: "a", from: 1, to: 2, km: 5})
		got := Follow(net, Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 1}}}, s, 1)
		if m := float64(got.Outcomes[0].ReachKm.Meters()); math.Abs(m/tt.retained-1) > 0.005 {
			t.Errorf("mean %g m: 99 %% retained at %.1f m, want %g within 0.5 %%", tt.mean, m, tt.retained)
		}
	}
}

// Rates follow the order of each edge: 1 km on order 3 (half each km) after
// 0.7 km on order 1 (half each 0.35 km), by hand.
func TestFollowRatesByOrder(t *testing.T) {
	net := network(t,
		channel{id: "a", from: 1, to: 2, km: 0.7, order: 1},
		channel{id: "b", from: 2, to: 3, km: 1, order: 3})
	released := Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 8}}}
	if got := Follow(net, released, DefaultSettings(), 1).Outcomes[0].Left; math.Abs(float64(got-1)) > 1e-12 {
		t.Errorf("left %g, want 8 x 1/4 x 1/2 = 1", got)
	}
	flood := DefaultSettings()
	flood.FloodFactor = 2
	if got := Follow(net, released, flood, 1).Outcomes[0].Left; math.Abs(float64(got)-8*math.Pow(2, -1.5)) > 1e-12 {
		t.Errorf("left %g in flood, want 8 x 2^-1.5", got)
	}
}

// Two stands 1 km apart on a line, amounts 2 and 1, breaks 0.5 and 1.5. By
// hand: 2 falls to 1.5 after log2(4/3) km (high to moderate); at 1 km it is 1,
// and the second stand lifts it to 2: high again, to 1.5 after another
// log2(4/3), to 0.5 after 2 km. The first stand's share ends at log2(20), the
// second's a km later.
func TestFollowClasses(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 10})
	s := halfKilometre()
	s.ExposureBreaks = [2]Amount{0.5, 1.5}
	got := Follow(net, Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 2},
		{Stand: 1, Place: place(net, "a", 1), Amount: 1},
	}}, s, 1)
	cut, end := geo.Kilometers(math.Log2(4.0/3)), geo.Kilometers(math.Log2(20)+1)
	want := []Reach{
		{FromKm: 10, ToKm: 10 - cut, LengthKm: cut, Exposure: 2, Class: High, Stands: 1, NearestStand: 0},
		{FromKm: 10 - cut, ToKm: 9, LengthKm: 1 - cut, Exposure: 1.5, Class: Moderate, Stands: 1, NearestStand: 0},
		{FromKm: 9, ToKm: 9 - cut, LengthKm: cut, Exposure: 2, Class: High, Stands: 2, NearestStand: 1},
		{FromKm: 9 - cut, ToKm: 7, LengthKm: 2 - cut, Exposure: 1.5, Class: Moderate, Stands: 2, NearestStand: 1},
		{FromKm: 7, ToKm: 10 - end, LengthKm: end - 3, Exposure: 0.5, Class: Low, Stands: 2, NearestStand: 1},
	}
	if diff := cmp.Diff(want, got.Reaches, approx, cmpopts.IgnoreFields(Reach{}, "Path", "HoursFast", "HoursMean", "Velocity")); diff != "" {
		t.Errorf("reaches: (-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([][]int32{{1}, nil}, [][]int32{got.Outcomes[0].Reached, got.Outcomes[1].Reached}, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("reached: (-want +got)\n%s", diff)
	}
	for i := 1; i < len(got.Reaches); i++ {
		above, below := got.Reaches[i-1].Path, got.Reaches[i].Path
		if above[len(above)-1] != below[0] {
			t.Errorf("piece %d does not begin where piece %d ends", i, i-1)
		}
	}
}

// Hours count from the nearest source above to the lower end of a piece, and the reach ends where
// the first fragment is too old. By hand: at a mean velocity of 0.85 m/s floating material covers
// 3.6 km an hour.
func TestFollowHours(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 1.8}, channel{id: "b", from: 2, to: 3, km: 20})
	s := halfKilometre()
	s.HalfDistanceByOrder = []geo.Kilometers{100}
	s.VelocityByOrder = []geo.MetersPerSecond{0.85}
	s.ExposureBreaks = [2]Amount{5, 6}
	source := func(line string, km float64) Source { return Source{Place: place(net, line, km), Amount: 1} }
	got := Follow(net, Released{Stands: 1, Sources: []Source{source("a", 0), source("b", 3.6)}}, s, 1)
	want := []float64{0.5, (20 - 3.6) / 3.6}
	for i, r := range got.Reaches {
		if math.Abs(float64(r.HoursMean)-want[i]) > 1e-9 || math.Abs(float64(r.HoursFast)-0.89*want[i]) > 1e-9 || r.Velocity != ByOrder {
			t.Errorf("piece %d: %g and %g hours by %v, want %g and 0.89 of it", i, r.HoursMean, r.HoursFast, r.Velocity, want[i])
		}
	}
	s.Viable = 0.89 * 2 / 24 // the first fragment is too old after two mean hours, 7.2 km
	got = Follow(net, Released{Stands: 1, Sources: []Source{source("a", 0)}}, s, 1)
	if math.Abs(float64(got.Outcomes[0].ReachKm)-7.2) > 1e-9 {
		t.Errorf("reach %g km, want 7.2", got.Outcomes[0].ReachKm)
	}
}

// A source that releases nothing reaches nothing, and a batch without sources is empty.
func TestFollowNothing(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 10})
	got := Follow(net, Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0)}}}, halfKilometre(), 1)
	if got.Outcomes[0].ReachKm != 0 || len(got.Reaches) != 0 || got.Balance != (Balance{}) {
		t.Errorf("a source of 0 went somewhere: %+v", got)
	}
	if !math.IsNaN(float64(got.Outcomes[0].RiverKm)) {
		t.Errorf("river km %g without a source, want none", got.Outcomes[0].RiverKm)
	}
}

// TestWhoComesFirst: of stands whose reach covers the end of a piece, the first to arrive counts, a
// tie to the first stand. Stands whose reach ends above that end count among the stands of the
// piece; those that begin below the piece do not. By hand, on an edge of 100 m that takes 10 hours,
// 8 at the fastest.
func TestWhoComesFirst(t *testing.T) {
	edge := &flow.Edge{Length: 100}
	times := times{mean: []geo.Hours{10}, fast: []geo.Hours{8}}
	over := func(stand int32, from, to geo.Meters, fast, mean geo.Hours) timedCover {
		return timedCover{cover{stand: stand, from: from, to: to}, fast, mean}
	}
	for name, test := range map[string]struct {
		covers  []timedCover
		stands  int
		nearest int32
		fast    float64
		mean    float64
	}{
		"one":              {[]timedCover{over(3, 0, 100, 1, 2)}, 1, 3, 1 + 4, 2 + 5},
		"two at one time":  {[]timedCover{over(2, 0, 100, 1, 2), over(5, 0, 60, 1, 3)}, 2, 2, 5, 7},
		"the same, turned": {[]timedCover{over(5, 0, 60, 1, 3), over(2, 0, 100, 1, 2)}, 2, 2, 5, 7},
		"the nearer":       {[]timedCover{over(2, 0, 100, 0.5, 1), over(7, 25, 100, 0, 0)}, 2, 7, 2, 2.5},
		"the faster":       {[]timedCover{over(2, 0, 100, 0, 0), over(7, 10, 100, 1, 1)}, 2, 2, 4, 5},
		"one ends above":   {[]timedCover{over(2, 0, 40, 0, 0), over(7, 10, 100, 1, 1)}, 2, 7, 1 + 3.2, 1 + 4},
		"one begins below": {[]timedCover{over(2, 0, 100, 0, 0), over(7, 50, 100, 0, 0)}, 1, 2, 4, 5},
		"one ended before": {[]timedCover{over(2, 0, 20, 0, 0), over(7, 10, 100, 1, 1)}, 1, 7, 4.2, 5},
		"one stand twice":  {[]timedCover{over(2, 0, 100, 3, 3), over(2, 30, 100, 0, 0)}, 1, 2, 1.6, 2},
		"the first stand":  {[]timedCover{over(0, 0, 100, 0, 0), over(7, 10, 100, 1, 1)}, 2, 0, 4, 5},
		"none to the end":  {[]timedCover{over(2, 0, 40, 0, 0)}, 1, -1, 0, 0},
	} {
		var r Reach
		r.whose(test.covers, stretch{from: 20, to: 50}, times, edge)
		if r.Stands != test.stands || r.NearestStand != test.nearest {
			t.Errorf("%s: %d stands, first %d", name, r.Stands, r.NearestStand)
		}
		if test.nearest < 0 {
			if !math.IsNaN(float64(r.HoursFast)) || !math.IsNaN(float64(r.HoursMean)) {
				t.Errorf("%s: %g and %g hours", name, r.HoursFast, r.HoursMean)
			}
		} else if math.Abs(float64(r.HoursFast)-test.fast) > 1e-12 || math.Abs(float64(r.HoursMean)-test.mean) > 1e-12 {
			t.Errorf("%s: %g and %g hours, want %g and %g", name, r.HoursFast, r.HoursMean, test.fast, test.mean)
		}
	}
}
