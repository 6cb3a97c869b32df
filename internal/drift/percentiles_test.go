package drift

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// A Latin hypercube has one sample in every slice of every margin.
func TestSamplesFillEverySlice(t *testing.T) {
	spread := DefaultSpread()
	samples := spread.samples()
	margins := map[string]func(sample) float64{
		"half distance": func(s sample) float64 {
			return normalShare(math.Log(float64(s.half)) / math.Log(float64(spread.HalfDistanceGSD)))
		},
		"release": func(s sample) float64 {
			return normalShare(math.Log(float64(s.release)) / math.Log(float64(spread.ReleaseGSD)))
		},
		"pass":    func(s sample) float64 { return (float64((s.pass-1))/float64(spread.PassSpread) + 1) / 2 },
		"setback": func(s sample) float64 { return (float64(s.setback/spread.Setback) + 1) / 2 },
	}
	for name, share := range margins {
		met := make([]int, spread.Draws)
		for _, s := range samples {
			met[min(int(share(s)*float64(spread.Draws)), spread.Draws-1)]++
		}
		if slices.Max(met) != 1 {
			t.Errorf("%s: a slice was met %d times", name, slices.Max(met))
		}
	}
}

// normalShare is the standard normal distribution function.
func normalShare(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// Definition 7 of Hyndman & Fan (1996) on 1, 2, 4, 8: by hand, at 0.1 x 3 =
// 0.3 from 1 to 2, at 1.5 between 2 and 4, at 2.7 from 4 to 8.
func TestQuantile(t *testing.T) {
	values := []float64{1, 2, 4, 8}
	for probability, want := range map[float64]float64{0: 1, 0.1: 1.3, 0.5: 3, 0.9: 6.8, 1: 8} {
		if got := quantile(values, probability); math.Abs(got-want) > 1e-12 {
			t.Errorf("quantile %g: %g, want %g", probability, got, want)
		}
	}
}

// On one long line the reach is half-distance x log2(1/share), so it is lognormal like the factor:
// its percentiles are the median times the geometric standard deviation to the power -1.28155, 0
// and 1.28155 (standard normal quantiles). Exposure is half-distance / ln 2 x release: the product
// of two lognormals.
func TestPercentilesClosedForm(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 10_000})
	s := halfKilometre()
	s.Viable, s.ExposureBreaks = 1e6, neverModerate
	u := Uncertain{
		Released: Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 1}}},
		Setback:  30, Spread: DefaultSpread(), Workers: 2,
	}
	u.Spread.Draws = 4000
	got, err := Percentiles(context.Background(), net, s, u)
	if err != nil {
		t.Fatal(err)
	}
	const z = 1.281551565545
	reach, sigma := math.Log2(20), math.Log(float64(u.Spread.HalfDistanceGSD))
	both := math.Hypot(sigma, math.Log(float64(u.Spread.ReleaseGSD)))
	want := []Band[float64]{
		{P10: reach * math.Exp(-z*sigma), P50: reach, P90: reach * math.Exp(z*sigma)},
		{P10: math.Exp(-z*both) / math.Ln2, P50: 1 / math.Ln2, P90: math.Exp(z*both) / math.Ln2},
	}
	reached := got.Reach[0]
	made := got.Exposure[0]
	for i, band := range []Band[float64]{
		{P10: float64(reached.P10), P50: float64(reached.P50), P90: float64(reached.P90)},
		{P10: float64(made.P10), P50: float64(made.P50), P90: float64(made.P90)},
	} {
		// a hypercube of 4000 stratifies the first exactly, the product nearly
		tolerance := []float64{0.001, 0.05}[i]
		for k, pair := range [][2]float64{{band.P10, want[i].P10}, {band.P50, want[i].P50}, {band.P90, want[i].P90}} {
			if math.Abs(pair[0]/pair[1]-1) > tolerance {
				t.Errorf("figure %d, percentile %d: %g, want %g", i, k, pair[0], pair[1])
			}
		}
	}
	if got.AtRisk != got.Reach[0] && math.Abs(float64(got.AtRisk.P50-got.Reach[0].P50)) > 1e-4 {
		t.Errorf("union %v of one stand differs from its reach %v", got.AtRisk, got.Reach[0])
	}
}

// A source 35 m from the bank is in the zone only in draws with a larger setback: a quarter of 20
// to 40 m. So its median reach is 0, its P90 is not.
func TestPercentilesOfSetback(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 1000})
	u := Uncertain{
		Released: Released{Stands: 2, Sources: []Source{
			{Place: place(net, "a", 0), Amount: 1, Bank: 35},
			{Stand: 1, Place: place(net, "a", 500), Amount: 1, Bank: -3},
		}},
		Setback: 30, Spread: DefaultSpread(), Workers: 1,
	}
	got, err := Percentiles(context.Background(), net, DefaultSettings(), u)
	if err != nil {
		t.Fatal(err)
	}
	if got.Reach[0].P50 != 0 || got.Reach[0].P90 == 0 || got.Reach[1].P10 == 0 {
		t.Errorf("reach %v and %v", got.Reach[0], got.Reach[1])
	}
}

// The same seed gives the same numbers for 1 and 8 workers, another seed gives others; without
// spread, all three percentiles equal the result with the settings.
func TestPercentilesSeed(t *testing.T) {
	net := network(t,
		channel{id: "a", from: 1, to: 2, km: 3, barrier: "weir"}, channel{id: "b", from: 2, to: 3, km: 1, share: 0.7},
		channel{id: "c", from: 2, to: 3, km: 2, share: 0.3}, channel{id: "d", from: 3, to: 4, km: 30})
	u := Uncertain{
		Released: Released{Stands: 2, Sources: []Source{
			{Place: place(net, "a", 1), Amount: 1}, {Stand: 1, Place: place(net, "c", 1), Amount: 3},
		}},
		Setback: 30, Spread: DefaultSpread(), Workers: 1,
	}
	run := func(u Uncertain) Bands {
		t.Helper()
		bands, err := Percentiles(context.Background(), net, DefaultSettings(), u)
		if err != nil {
			t.Fatal(err)
		}
		return bands
	}
	one := run(u)
	u.Workers = 8
	if diff := cmp.Diff(one, run(u)); diff != "" {
		t.Errorf("8 workers: (-1 +8)\n%s", diff)
	}
	u.Spread.Seed = 2
	if cmp.Equal(one, run(u)) {
		t.Error("another seed gave the same numbers")
	}
	u.Spread = Spread{Draws: 3, HalfDistanceGSD: 1, ReleaseGSD: 1}
	still := run(u)
	follow := Follow(net, u.Released, DefaultSettings(), 1)
	for i, o := range follow.Outcomes {
		b := still.Reach[i]
		if b.P10 != b.P90 || math.Abs(float64(b.P50-o.ReachKm)) > 1e-6*float64(o.ReachKm) {
			t.Errorf("stand %d without spread: %v, want %g", i, b, o.ReachKm)
		}
		if e := still.Exposure[i]; math.Abs(float64(e.P50-o.Exposure)) > float64(1e-6*o.Exposure) {
			t.Errorf("stand %d without spread: exposure %v, want %g", i, e, o.Exposure)
		}
	}
}

func TestSpreadValidate(t *testing.T) {
	if err := DefaultSpread().Validate(); err != nil {
		t.Errorf("defaults: %v", err)
	}
	for name, change := range map[string]func(*Spread){
		"negative draws":   func(s *Spread) { s.Draws = -1 },
		"too many draws":   func(s *Spread) { s.Draws = 1e6 },
		"gsd below 1":      func(s *Spread) { s.HalfDistanceGSD = 0.9 },
		"release gsd NaN":  func(s *Spread) { s.ReleaseGSD = Factor(math.NaN()) },
		"pass above 1":     func(s *Spread) { s.PassSpread = 1.1 },
		"negative setback": func(s *Spread) { s.Setback = geo.Meters(-1) },
	} {
		s := DefaultSpread()
		change(&s)
		if s.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// The passes, and the reaches scaled over all draws, equal the results of following each draw
// separately, with braids, barriers and sources near the edge of the zone.
func TestPercentilesAgainstEachDraw(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		const stands = 3
		sources := drawSources(rt, net, stands)
		for i := range sources {
			sources[i].Bank = geo.Meters(rapid.Float64Range(-10, 45).Draw(rt, "bank"))
		}
		s := DefaultSettings()
		s.Viable = Days(rapid.SampledFrom([]float64{10, 0.05}).Draw(rt, "viable days"))
		u := Uncertain{Released: Released{Stands: stands, Sources: sources}, Setback: 30, Spread: DefaultSpread(), Workers: 1}
		u.Spread.Draws = 11
		p := newEnsemble(net, s, u, u.Released.inFlowOrder())
		d := newDrawer(p)
		rows := make([]row, len(p.samples))
		for _, group := range p.groups() {
			d.draw(group, func(draw int, of row) { rows[draw] = of })
		}
		reach := make([][]drawnReach, u.Released.Stands)
		for k, stand := range p.single {
			for i := range rows {
				reach[stand] = append(reach[stand], rows[i].reach[k])
			}
		}
		p.stretch(func(stand int32, own []drawnReach) { reach[stand] = slices.Clone(own) })
		for i, sample := range p.samples {
			want := followDraw(net, s, u, sample)
			if math.Abs(float64(rows[i].atRisk-want.AtRiskKm)) > 1e-6 {
				rt.Fatalf("draw %d: union %.9f km, followed on its own %.9f", i, rows[i].atRisk, want.AtRiskKm)
			}
			for stand, o := range want.Outcomes {
				if math.Abs(float64(reach[stand][i])-float64(o.ReachKm)) > 1e-5 {
					rt.Fatalf("draw %d, stand %d: reach %.9f km, followed on its own %.9f", i, stand, reach[stand][i], o.ReachKm)
				}
				if e := o.Exposure; math.Abs(float64(rows[i].exposure[stand])-float64(e)) > float64(1e-5*max(1, e)) {
					rt.Fatalf("draw %d, stand %d: exposure %g, followed on its own %g", i, stand, rows[i].exposure[stand], e)
				}
			}
		}
	})
}

// followDraw follows one sample as a separate batch, with the sample's half-distances, recorded
// pass shares and amounts.
func followDraw(net *stream.Network, s Settings, u Uncertain, draw sample) Drift {
	s.FloodFactor *= draw.half
	lines := slices.Clone(net.Lines)
	for i := range lines {
		if kind := lines[i].Barrier; kind != stream.NoBarrier {
			lines[i].BarrierPass = geo.Share(min(1, float64(s.Pass[string(kind)])*float64(draw.pass)))
		}
	}
	own := *net
	own.Lines = lines
	kept := slices.DeleteFunc(slices.Clone(u.Released.Sources), func(src Source) bool {
		return src.Bank > u.Setback+draw.setback
	})
	for i := range kept {
		kept[i].Amount *= Amount(draw.release)
	}
	return Follow(&own, Released{Stands: u.Released.Stands, Sources: kept}, s, 1)
}
