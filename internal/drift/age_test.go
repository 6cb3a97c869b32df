package drift

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// A line of 10 km, half settling every km, at 3.6 km an hour: after one viable hour the fragments
// are 3.6 km down, with 2^-3.6 of them still afloat and too old. By hand.
func TestFollowAge(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 2}, channel{id: "b", from: 2, to: 3, km: 8})
	s := halfKilometre()
	s.VelocityByOrder, s.Viable = []geo.MetersPerSecond{0.85}, 1.0/24
	got := Follow(net, Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 1}}}, s, 1)
	aged := math.Exp2(-3.6)
	want := Balance{Released: 1, Settled: Amount(1 - aged), Aged: Amount(aged)}
	if diff := cmp.Diff(want, got.Balance, approx); diff != "" {
		t.Errorf("balance: (-want +got)\n%s", diff)
	}
	if e := got.Outcomes[0].Exposure; math.Abs(float64(e)-(1-aged)/math.Ln2) > 1e-9 {
		t.Errorf("exposure %g, want %g", e, (1-aged)/math.Ln2)
	}
}

// On any network the mass balance closes with age, agrees with every path taken one at a time, and
// without a limit equals that of the sweeps.
func TestAgeingAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		s := DefaultSettings()
		s.Viable = Days(rapid.Float64Range(0.001, 0.3).Draw(rt, "viable days"))
		s.HalfDistanceByOrder = []geo.Kilometers{geo.Kilometers(rapid.Float64Range(0.3, 50).Draw(rt, "half distance"))}
		sources := drawSources(rt, net, 1)
		got := Follow(net, Released{Stands: 1, Sources: sources}, s, 1)
		tr, times := transport(net, s)
		var want Balance
		for _, src := range sources {
			want.Released += src.Amount
			agedPath(net.Net, tr, times.mean, src.Place, packet{amount: src.Amount}, &want)
		}
		if diff := cmp.Diff(want, got.Balance, approx); diff != "" {
			rt.Fatalf("balance: (-every path +got)\n%s", diff)
		}
		b := got.Balance
		if sum := b.Settled + b.Held + b.Aged + b.Left; math.Abs(float64(sum-b.Released)) > float64(1e-9*b.Released) {
			rt.Fatalf("released %g, accounted for %g", b.Released, sum)
		}
		a := newAgeing(net.Net, tr, times.mean, geo.Hours(math.Inf(1)))
		a.follow(1, sources)
		linear := massBalance(net.Net, tr, 1, sources)
		a.balance[0].Exposure = 0
		if diff := cmp.Diff(linear, a.balance, approx); diff != "" {
			rt.Fatalf("without a limit: (-sweep +ageing)\n%s", diff)
		}
	})
}

// agedPath follows one amount along every path separately.
func agedPath(net *flow.Network, t flow.Transport, hours []geo.Hours, at flow.Place, p packet, b *Balance) {
	edge := net.Edges[at.Edge]
	full := float64(edge.Length - at.Offset)
	rest := min(full, float64((t.Limit-p.hours)/hours[at.Edge])*float64(edge.Length))
	afloat := float64(p.amount) * math.Exp(-t.Rate[at.Edge]*rest)
	b.Settled += Amount(float64(p.amount) - afloat)
	if rest < full {
		b.Aged += Amount(afloat)
		return
	}
	b.Held += Amount(afloat * (1 - t.Pass[at.Edge]))
	next := net.Downstream(at.Edge)
	if len(next) == 0 {
		b.Left += Amount(afloat * t.Pass[at.Edge])
	}
	p.hours += hours[at.Edge] * geo.Hours(full/float64(edge.Length))
	for _, n := range next {
		agedPath(net, t, hours, flow.Place{Edge: n}, packet{p.hours, Amount(afloat * t.Pass[at.Edge] * net.Edges[n].Share)}, b)
	}
}

// Merged packets keep their amount and their mean age.
func TestMerge(t *testing.T) {
	var packets []packet
	var amount, weighted float64
	for i := range 200 {
		p := packet{hours: geo.Hours(i*i%97) + 0.25*geo.Hours(i), amount: Amount(1 + float64(i%3))}
		packets = append(packets, p)
		amount += float64(p.amount)
		weighted += float64(p.amount) * float64(p.hours)
	}
	merged := merge(packets)
	if len(merged) != mostPackets {
		t.Fatalf("%d packets, want %d", len(merged), mostPackets)
	}
	for i, p := range merged {
		amount -= float64(p.amount)
		weighted -= float64(p.amount) * float64(p.hours)
		if i > 0 && p.hours < merged[i-1].hours {
			t.Errorf("packet %d is younger than the one before", i)
		}
	}
	if math.Abs(amount) > 1e-9 || math.Abs(weighted) > 1e-6 {
		t.Errorf("merging lost %g of the amount and %g of its age", amount, weighted)
	}
}

// TestMergeTakesTheClosest: with one packet too many, the two packets closest in age are merged, a
// tie to the first, and the age is the mean weighted by amount; by hand.
func TestMergeTakesTheClosest(t *testing.T) {
	var packets []packet
	for i := range mostPackets + 1 {
		packets = append(packets, packet{hours: 10 * geo.Hours(i), amount: 1})
	}
	packets[31].hours, packets[31].amount = 302, 3 // 2 hours after the one before
	packets[50].hours = 498                        // 8 after it, and 12 before the next
	got := merge(packets)
	if len(got) != mostPackets || got[29] != (packet{290, 1}) || got[30] != (packet{301.5, 4}) || got[31] != (packet{320, 1}) {
		t.Errorf("%v", got[28:33])
	}
	even := make([]packet, mostPackets+1)
	for i := range even {
		even[i] = packet{hours: geo.Hours(i), amount: 1}
	}
	if got = merge(even); got[0] != (packet{0.5, 2}) || got[1] != (packet{2, 1}) {
		t.Errorf("%v", got[:3])
	}
}

// TestOutlive: by hand. Half settles over a km in an hour. With ten hours, two of them on a lake, a
// share of 2^-8 is afloat after the other eight, however little is lost on the lake; an edge with a
// higher loss per hour changes nothing. If the lake takes longer than the limit, everything may
// outlive it.
func TestOutlive(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 1}, channel{id: "lake", from: 2, to: 3, km: 1}, channel{id: "b", from: 3, to: 4, km: 1})
	tr := flow.Transport{Rate: []float64{math.Ln2 / 1000, stillRate, 2 * math.Ln2 / 1000}, Pass: []float64{1, 1, 1}}
	hours := []geo.Hours{1, 2, 1}
	for limit, want := range map[geo.Hours]float64{10: math.Exp2(-8), 3: 0.5, 2: 1, 1: 1} {
		if got := outlive(net.Net, tr, hours, limit); math.Abs(float64(got)-want) > 1e-12 {
			t.Errorf("a limit of %g hours: %g, want %g", limit, got, want)
		}
	}
	if got := stillHours(net.Net, tr, hours); got != 2 {
		t.Errorf("%g hours on still water", got)
	}
	if !isStill(stillRate) || !isStill(10*stillRate) || isStill(11*stillRate) {
		t.Error("what still water is")
	}
}
