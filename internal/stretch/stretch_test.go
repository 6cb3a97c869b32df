package stretch

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/drift"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// span is a line of a test network along a meridian or off it, by its ends in degrees.
type span struct {
	id, name string
	from, to orb.Point
}

func network(t testing.TB, spans ...span) *stream.Network {
	t.Helper()
	nan := math.NaN()
	lines := make([]stream.Centerline, len(spans))
	for i, s := range spans {
		lines[i] = stream.Centerline{
			ID: s.id, Name: s.name, Path: orb.LineString{s.from, s.to}, FlowShare: geo.Share(nan), Sequence: nan, MeanVelocity: geo.MetersPerSecond(nan), Drainage: geo.SquareKilometers(nan),
			Discharge: geo.CubicMetersPerSecond(nan), MeanDischarge: geo.CubicMetersPerSecond(nan), Slope: nan, LocalArea: geo.SquareKilometers(nan), BarrierPass: geo.Share(nan), Order: 1, Length: geo.Meters(nan),
		}
	}
	net, _ := stream.Connect(lines, nil, nil, flow.Options{Snap: 1})
	return net
}

// y is two branches of some 2.2 km and 1.1 km and a stem of 3.3 km below them.
func y(t testing.TB) *stream.Network {
	fork := orb.Point{10, -36}
	return network(t,
		span{"long", "Long Fork", orb.Point{10, -35.98}, fork}, span{"short", "Short Fork", orb.Point{10.012, -36}, fork},
		span{"stem", "Stem", fork, orb.Point{10, -36.03}})
}

// in is ground given by a function.
type in func(p orb.Point) bool

func (g in) Holds(p orb.Point) bool { return g(p) }
func (g in) Meets(orb.Bound) bool   { return true }

var (
	nowhere = in(func(orb.Point) bool { return false })
	q1      = survey.Quarter{Year: 2026, Number: 1}
	q2      = survey.Quarter{Year: 2026, Number: 2}
	q4      = survey.Quarter{Year: 2026, Number: 4}
)

// place is a place the given metres down a line.
func place(net *stream.Network, id string, at geo.Meters) flow.Place {
	i := slices.IndexFunc(net.Lines, func(l stream.Centerline) bool { return l.ID == id })
	return flow.Place{Edge: net.Net.EdgesOf(int32(i))[0], Offset: at}
}

func half(net *stream.Network) []geo.Meters {
	return slices.Repeat([]geo.Meters{5}, net.Paths.Len())
}

// known is a network with a stand that releases one unit 1 km down Long Fork.
func known(net *stream.Network) Known {
	at := place(net, "long", 1000)
	d := drift.Follow(net, drift.Released{Stands: 1, Sources: []drift.Source{{Place: at, Amount: 1}}}, drift.DefaultSettings(), 1)
	measured := net.Paths.At(int(at.Edge))
	along := float64(earth.LineLength(measured))
	return Known{
		Quarter: q1, Net: net, Half: half(net), Drift: &d, Now: nowhere,
		Stands: []Stand{{Live: true, On: at, At: orb.Point{10, measured[0][1] + (measured[1][1]-measured[0][1])*1000/along}}},
	}
}

func byID(all []Stretch) map[string]*Stretch {
	out := map[string]*Stretch{}
	for i := range all {
		out[all[i].ID] = &all[i]
	}
	return out
}

// Stretches end at the confluence and are equal parts in between, none longer than set; together
// they are the network. 2.22 km make 3 parts, 1.08 km 2, 3.33 km 4.
func TestStretchesAreEqualPartsBetweenConfluences(t *testing.T) {
	net := y(t)
	all := Find(known(net), DefaultSettings())
	var ids []string
	sums := map[string]geo.Meters{}
	for i := range all {
		s := &all[i]
		id := net.Lines[s.Lines[0]].ID
		ids, sums[id] = append(ids, s.ID), sums[id]+s.Length
		if s.Length > 1000 || math.Abs(float64(earth.LineLength(s.Path)-s.Length)) > 1e-3 {
			t.Errorf("%s is %g m long, its line %g m", s.ID, s.Length, earth.LineLength(s.Path))
		}
		if km := float64(s.FromKm - s.ToKm); math.Abs(km-float64(s.Length.Kilometers())) > 1e-9 {
			t.Errorf("%s is %g river km long and %g km", s.ID, km, s.Length.Kilometers())
		}
	}
	slices.Sort(ids)
	if diff := cmp.Diff([]string{"long/1", "long/2", "long/3", "short/1", "short/2", "stem/1", "stem/2", "stem/3", "stem/4"}, ids); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	for i := range net.Lines {
		if want := earth.LineLength(net.Lines[i].Path); math.Abs(float64(sums[net.Lines[i].ID]-want)) > 1e-6 {
			t.Errorf("%s: %g m in stretches, %g in all", net.Lines[i].ID, sums[net.Lines[i].ID], want)
		}
	}
}

// The exposure of all stretches that nobody looked at adds up to the stand's own; above the stand
// and on the other branch it is 0. The stretches above the stand are still on the list: its own
// stretch, since the greater part is above it, and the next one up.
func TestExposureAndPlacesAboveTheHighestStand(t *testing.T) {
	k := known(y(t))
	all := byID(Find(k, DefaultSettings()))
	sum := 0.0
	for _, s := range all {
		sum += float64(s.Exposure)
		if math.Abs(float64(s.Exposure-s.Now)) > 1e-12 || s.Last.State != Never || s.NeverShare != 1 || s.Counted != q1 {
			t.Errorf("%s: exposure %g, now %g, %v, never looked at %g", s.ID, s.Exposure, s.Now, s.Last, s.NeverShare)
		}
	}
	if want := k.Drift.Outcomes[0].Exposure; math.Abs(sum-float64(want)) > 1e-9 {
		t.Errorf("exposure %g, the stand's %g", sum, want)
	}
	// the stand is 1000 m down, the first stretch ends at 740 m, the second at 1480 m
	for id, want := range map[string]bool{"long/1": true, "long/2": false, "long/3": false, "short/2": false, "stem/1": false} {
		if all[id].Above != want {
			t.Errorf("%s above the highest stand: %v", id, all[id].Above)
		}
	}
	if all["long/1"].Exposure != 0 || all["short/2"].Exposure != 0 || !all["long/1"].Listed {
		t.Errorf("above the stand: %+v", all["long/1"])
	}
	k.Stands[0].On.Offset = 1400
	if all := byID(Find(k, DefaultSettings())); !all["long/1"].Above || !all["long/2"].Above {
		t.Error("a stretch most of which lies above the stand is not told so")
	}
	k.Stands[0].On = place(k.Net, "stem", 100)
	if all := byID(Find(k, DefaultSettings())); !all["long/3"].Above || !all["short/2"].Above || all["stem/1"].Above {
		t.Error("above a stand just below the confluence both branches are to be looked at")
	}
}

// Several quarters, by hand: the left bank of the upper half of the stem was surveyed in 2026Q1,
// and its right bank in 2026Q2; 2026Q3 has no batch and counts like 2026Q4.
func TestExposureSinceEachBankWasLookedAt(t *testing.T) {
	net := y(t)
	k := known(net)
	upper := func(p orb.Point) bool { return p[1] < -36.0001 && p[1] > -36.0149 }
	left := func(p orb.Point) bool { return p[0] > 10 } // the stem runs south
	keep := func(all []Stretch, q survey.Quarter) *Memory {
		m := &Memory{Quarter: q}
		for i := range all {
			m.Stretches = append(m.Stretches, Remembered{all[i].Path, all[i].Cells})
		}
		return m
	}
	k.Now = in(func(p orb.Point) bool { return upper(p) && left(p) })
	first := Find(k, DefaultSettings())
	k.Quarter, k.Memory, k.Now = q2, keep(first, q1), in(func(p orb.Point) bool { return upper(p) && !left(p) })
	second := Find(k, DefaultSettings())
	k.Quarter, k.Memory, k.Now = q4, keep(second, q2), nowhere
	third := Find(k, DefaultSettings())
	for i, want := range []struct{ stem1, long3 float64 }{
		{0.5, 1}, // one bank of two still counts 2026Q1
		{0.5, 2}, // the left counts 2026Q2
		{2.5, 4}, // the left bank three quarters, the right two
	} {
		all := byID([][]Stretch{first, second, third}[i])
		for id, times := range map[string]float64{"stem/1": want.stem1, "long/3": want.long3} {
			if s := all[id]; math.Abs(float64(s.Exposure)-times*float64(s.Now)) > float64(1e-9*s.Now) {
				t.Errorf("batch %d, %s: exposure %g, want %g times %g", i+1, id, s.Exposure, times, s.Now)
			}
		}
	}
	all := byID(third)
	if s := all["stem/1"]; s.Last != (Look{Looked, q1}) || s.Counted != q2 {
		t.Errorf("stem/1 was last looked at %v, counted from %v", s.Last, s.Counted)
	}
	if n, known := all["stem/1"].Last.Quarters(q4); n != 3 || !known {
		t.Errorf("%d quarters since, %v", n, known)
	}
	if s := all["stem/2"]; s.NeverShare != 0 || all["stem/3"].NeverShare != 1 || all["stem/3"].Last.State != Never {
		t.Errorf("never looked at: %g of stem/2, %g of stem/3", s.NeverShare, all["stem/3"].NeverShare)
	}
}

// Stretches of another length, on lines drawn 10 m beside the old ones, keep the time of their last
// look. Where nothing was stored, ground surveyed in the chain shows that there was a look, but not
// in which quarter.
func TestMemoryHoldsForOtherStretches(t *testing.T) {
	net := y(t)
	k := known(net)
	k.Now = in(func(p orb.Point) bool { return p[1] < -36.0001 })
	m := &Memory{Quarter: q1}
	for _, s := range Find(k, DefaultSettings()) {
		m.Stretches = append(m.Stretches, Remembered{s.Path, s.Cells})
	}
	shifted := func(p orb.Point) orb.Point { return orb.Point{p[0] + 0.0001, p[1]} } // 9 m
	fork := shifted(orb.Point{10, -36})
	other := network(t, span{"l", "", shifted(orb.Point{10, -35.98}), fork}, span{"s", "", shifted(orb.Point{10.012, -36}), fork},
		span{"t", "", fork, shifted(orb.Point{10, -36.03})})
	d := drift.Follow(other, drift.Released{}, drift.DefaultSettings(), 1)
	s := DefaultSettings()
	s.Length = 0.4
	again := Known{Quarter: q2, Net: other, Half: half(other), Drift: &d, Now: nowhere, Memory: m}
	for _, one := range Find(again, s) {
		line := other.Lines[one.Lines[0]].ID
		want := State(Never)
		if line == "t" {
			want = Looked
		}
		if one.Last.State != want {
			t.Errorf("%s: %v", one.ID, one.Last)
		}
	}
	again.Memory, again.Before = nil, k.Now
	for _, one := range Find(again, s) {
		if line := other.Lines[one.Lines[0]].ID; line == "t" && one.Last != (Look{Unknown, q2}) || line != "t" && one.Last != (Look{Never, q2}) {
			t.Errorf("nothing kept, %s: %v", one.ID, one.Last)
		}
	}
}

// The site of a planned work puts its stretch on the list before others without exposure.
func TestWorksAreLookedAt(t *testing.T) {
	k := known(y(t))
	k.Sites = []Site{{Work: 7, Places: []flow.Place{place(k.Net, "stem", 3000), place(k.Net, "stem", 3010)}}}
	all := byID(Find(k, DefaultSettings()))
	if s := all["stem/4"]; !slices.Equal(s.Works, []int32{7}) {
		t.Errorf("works on stem/4: %v", s.Works)
	}
	if s := all["long/2"]; s.StandsNear != 1 || s.NearestStand != 0 || all["stem/4"].StandsNear != 0 || all["stem/4"].NearestStand != -1 {
		t.Errorf("stands near long/2: %d", s.StandsNear)
	}
}

// The random sample is simple: over many seeds every stretch is drawn as often as its chance says
// (99.99 % of binomial draws are within four standard deviations), and the number drawn is always
// the same.
func TestSampleIsSimple(t *testing.T) {
	const n, seeds = 40, 4000
	counts := map[string]int{}
	s := DefaultSettings()
	s.ListShare, s.RandomShare = 0.5, 0.3
	for seed := range seeds {
		all := make([]Stretch, n)
		for i := range all {
			all[i].ID = fmt.Sprint("s/", i)
		}
		s.Seed = uint64(seed)
		sample(all, s)
		drawn := 0
		for i := range all {
			if all[i].Draw > 0 {
				drawn++
				counts[all[i].ID]++
			}
			if all[i].Chance != 0.15 {
				t.Fatalf("chance %g, want 6 of 40", all[i].Chance)
			}
		}
		if drawn != 6 {
			t.Fatalf("%d drawn, want 6", drawn)
		}
	}
	sd := math.Sqrt(seeds * 0.15 * 0.85)
	for id, count := range counts {
		if math.Abs(float64(count)-seeds*0.15) > 4*sd {
			t.Errorf("%s was drawn %d times, expected %g", id, count, seeds*0.15)
		}
	}
	if len(counts) != n {
		t.Errorf("%d of %d were ever drawn", len(counts), n)
	}
}

// The list has the set share of kilometres, and each reason its share of the list; the rest follows
// by rank.
func TestListSharesItsKilometres(t *testing.T) {
	var all []Stretch
	for i := range 1000 {
		all = append(all, Stretch{
			ID: fmt.Sprintf("s/%04d", i), Length: 800, Exposure: drift.AmountKm(i % 500), Drawn: &Drawn{Cells: PackCells(make([]Cell, 1))}, Above: i%10 == 0 && i >= 500,
		})
	}
	s := DefaultSettings()
	sample(all, s)
	all = inOrder(all, s)
	var listed, places, random, last float64
	for i := range all {
		if all[i].Listed {
			listed++
			if i > 0 && !all[i-1].Listed {
				t.Fatalf("row %d is on the list and the one before is not", i)
			}
			if all[i].Above {
				places++
			}
			if all[i].Draw > 0 {
				random++
			}
		} else if !all[i].Above {
			if last > 0 && float64(all[i].Exposure) > last {
				t.Fatalf("row %d is behind one of less exposure", i)
			}
			last = float64(all[i].Exposure)
		}
	}
	if listed != 100 || random != 20 || places < 20 || places > 30 {
		t.Errorf("%g on the list, %g of them drawn, %g above stands", listed, random, places)
	}
	if first := all[:20]; !slices.ContainsFunc(first, func(s Stretch) bool { return s.Above }) || !slices.ContainsFunc(first, func(s Stretch) bool { return s.Draw > 0 }) {
		t.Error("the first rows are of one reason alone")
	}
}

// What is written of a look reads back.
func TestLooksReadBack(t *testing.T) {
	for _, l := range []Look{{Never, q1}, {Unknown, q2}, {Looked, q4}} {
		if got, err := ParseLook(l.String()); err != nil || got != l {
			t.Errorf("%q read as %v, %v", l.String(), got, err)
		}
	}
	for _, bad := range []string{"", "-", "2026", "!2026Q1", "2026Q5"} {
		if _, err := ParseLook(bad); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}

func TestSettingsValidate(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Error(err)
	}
	for name, change := range map[string]func(*Settings){
		"no length": func(s *Settings) { s.Length = 0 }, "no list": func(s *Settings) { s.ListShare = 0 }, "more than all": func(s *Settings) { s.ListShare = 1.1 },
		"shares above one": func(s *Settings) { s.PlacesShare, s.RandomShare = 0.6, 0.6 }, "near below none": func(s *Settings) { s.Near = -1 },
	} {
		s := DefaultSettings()
		change(&s)
		if s.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
