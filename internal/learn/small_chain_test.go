package learn

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/earlier"
	"driftreach/internal/estimate"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// creek is 1 km of stream that runs south, in 20 cells of 50 m, without a batch yet.
func creek(t *testing.T) *Chain {
	t.Helper()
	nan := math.NaN()
	net, _ := stream.Connect([]stream.Centerline{{
		ID: "c", Name: "Creek", Path: orb.LineString{{10, -36}, {10, -36 - 1000/110957.0}}, Order: 2, FlowShare: geo.Share(nan), Sequence: nan, MeanVelocity: geo.MetersPerSecond(nan), Drainage: geo.SquareKilometers(nan),
		Discharge: geo.CubicMetersPerSecond(nan), MeanDischarge: geo.CubicMetersPerSecond(nan), Slope: nan, LocalArea: geo.SquareKilometers(nan), BarrierPass: geo.Share(nan), Length: 1000,
	}}, nil, nil, flow.Options{Snap: 1})
	c := &Chain{Net: net, Grid: stretch.NewGrid(net, stretch.DefaultSettings())}
	if len(c.Grid.Cells) != 20 || math.Abs(float64(c.Km())-1) > 1e-12 {
		t.Fatalf("%d cells on %g km", len(c.Grid.Cells), c.Km())
	}
	return c
}

// add appends a batch that looked at some cells: 1 the left bank, 2 the right, 3 both. A stand 500 m
// down releases the given amount.
func (c *Chain) add(t *testing.T, year, number int, looked map[int]int, released drift.Amount) *Batch {
	t.Helper()
	rules, err := settings.Default().Stages()
	if err != nil {
		t.Fatal(err)
	}
	b := Batch{Rules: rules, Batch: &earlier.Batch{Quarter: survey.Quarter{Year: int16(year), Number: int8(number)}}}
	b.released = drift.Released{Stands: 1, Sources: []drift.Source{{Place: flow.Place{Offset: 500}, Amount: released}}}
	b.drift = drift.Follow(c.Net, b.released, rules.Drift, 1)
	b.afloat = c.density(b.drift.ExposureOn(c.Net, c.Grid.Pieces()))
	b.banks = make([][2]stretch.Bank, len(c.Grid.Cells))
	if n := len(c.Batches); n > 0 {
		copy(b.banks, c.Batches[n-1].banks)
	}
	for cell, sides := range looked {
		for side := range 2 {
			if sides>>side&1 == 1 {
				b.banks[cell][side].Last = stretch.Look{State: stretch.Looked, Quarter: b.Quarter}
			}
		}
	}
	c.Batches = append(c.Batches, b)
	return &c.Batches[len(c.Batches)-1]
}

// Looks by hand. Cell 2 is above the stand, cell 12 below it. Two quarters without a batch lie between
// the second and the third: what floats counts three times there. A bank counts half, and from its own
// look before; the sooner of two banks' looks counts for both.
func TestLooksByHand(t *testing.T) {
	c := creek(t)
	c.add(t, 2026, 1, map[int]int{2: 3, 12: 3, 13: 1, 14: 1}, 1)
	c.add(t, 2026, 2, map[int]int{12: 3, 13: 2, 14: 2}, 2)
	c.add(t, 2027, 1, map[int]int{2: 3, 12: 1, 14: 3, 19: 3}, 1)
	a1, a2 := c.Batches[0].afloat, c.Batches[1].afloat
	if a1[2] != 0 || !(a1[12] > 0) || math.Abs(float64(a2[12]-2*a1[12])) > 1e-12 {
		t.Fatalf("afloat at the cells above and below: %g, %g, %g", a1[2], a1[12], a2[12])
	}
	class := c.Batches[1].Rules.Drift.ClassOf
	want := []look{
		{cell: 2, now: 2, since: 0, banks: 1, risk: drift.Possible},
		{cell: 12, now: 1, since: 0, banks: 1, risk: class(a1[12]), everAtRisk: true, exposure: a1[12]},
		{cell: 12, now: 2, since: 1, banks: 0.5, risk: class(a2[12]), everAtRisk: true, exposure: 3 * a2[12]},
		{cell: 14, now: 2, since: 1, banks: 1, risk: class(a2[14]), everAtRisk: true, exposure: 3 * a2[14]},
	}
	got := c.looks()
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(look{}), cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Errorf("looks (-want +got):\n%s", diff)
	}
	if class(a1[12]) == drift.Possible {
		t.Error("a cell below the stand is not at risk")
	}
	if km, quarters := c.km(&got[2]), c.quarters(&got[2]); math.Abs(float64(km-0.025)) > 1e-12 || quarters != 3 || c.quarters(&got[0]) != 4 {
		t.Errorf("%g km in %g quarters, and %g quarters", km, quarters, c.quarters(&got[0]))
	}
	if sums := c.summed(got, [][]drift.AmountKm{slices.Repeat([]drift.AmountKm{10}, 20), slices.Repeat([]drift.AmountKm{7}, 20)}); !slices.Equal(sums, []float64{10 + 3*7, 10, 3 * 7 * 0.5, 3 * 7}) {
		t.Errorf("summed: %v", sums)
	}

	c.Batches[0].released.Sources[0].Amount = 0 // what was at risk at the look before, but not since
	c.Batches[1].drift = drift.Follow(c.Net, drift.Released{}, c.Batches[1].Rules.Drift, 1)
	l := look{cell: 12, now: 2, since: 0, risk: drift.Possible}
	if c.expose(&l); !l.everAtRisk || l.risk != drift.Possible {
		t.Errorf("at risk in the earlier of two batches: %+v", l)
	}
}

// Risk by hand, from the four looks above: 0.05 km for four quarters not at risk; at risk 0.05 km for
// one quarter, 0.025 and 0.05 km for three: 0.275 km quarters of 0.475. Of three new stands two came
// there.
func TestRiskByHand(t *testing.T) {
	c := creek(t)
	c.add(t, 2026, 1, nil, 1)
	c.add(t, 2026, 2, nil, 1)
	c.add(t, 2027, 1, nil, 1)
	looks := []look{
		{cell: 2, now: 2, since: 0, banks: 1, risk: drift.Possible, exposure: 0}, {cell: 12, now: 1, since: 0, banks: 1, risk: drift.Low, exposure: 1},
		{cell: 12, now: 2, since: 1, banks: 0.5, risk: drift.High, exposure: 6}, {cell: 14, now: 2, since: 1, banks: 1, risk: drift.High, exposure: 3},
	}
	arrivals := []Arrival{{Kind: Hit, Look: 2}, {Kind: Upland, Look: -1}, {Kind: Miss, Look: 0, On: flow.Place{Offset: 120}}, {Kind: Hit, Look: 1}, {Kind: Clonal, Look: 3}}
	r := c.risk(looks, arrivals, c.Batches[2].Rules.Drift)
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	for i, want := range []struct{ km, quarters, found float64 }{{0.05, 0.2, 1}, {0.05, 0.05, 1}, {0, 0, 0}, {0.075, 0.225, 1}, {0.125, 0.275, 2}} {
		one := r.Classes[i]
		near(one.Name+" km", float64(one.LookedKm), want.km)
		near(one.Name+" km years", one.KmYears, want.quarters/4)
		near(one.Name+" found", float64(one.Found), want.found)
		near(one.Name+" ground", one.Ground, want.quarters/0.475)
		near(one.Name+" share", one.Share.Value, want.found/3)
		if one.Ground == 0 {
			if one.Ratio.Known() {
				t.Errorf("%s was not looked at and has the ratio %v", one.Name, one.Ratio)
			}
			continue
		}
		near(one.Name+" ratio", one.Ratio.Value, want.found/3/(want.quarters/0.475))
		near(one.Name+" lower ratio", one.Ratio.Low, estimate.Wilson(one.Found, 3).Low/one.Ground)
		near(one.Name+" new stands on 100 km a year", one.PerYear(), 100*want.found/(want.quarters/4))
	}
	near("looked at", float64(r.LookedKm), 0.175)
	if r.Counted != 3 || r.Needed != 7 || r.atRisk().Name != "at risk" {
		t.Errorf("%d counted, %d needed, %s", r.Counted, r.Needed, r.atRisk().Name)
	}
	// 2, 0 and 1 a quarter where they came, 1 where none did: the first is above it, the last even
	near("area", r.Curve.Area.Value, 0.5)
	// the source of the one that no stand explains is on the 120 m above it
	miss := r.Arrivals[2]
	near("above", float64(miss.AboveKm), 0.12)
	if len(miss.Above) != 1 || !slices.Equal(miss.Stretches, []string{"c/1"}) || r.Arrivals[0].Above != nil {
		t.Errorf("%+v", miss)
	}

	none := c.risk(nil, nil, c.Batches[2].Rules.Drift)
	if none.atRisk().Ratio.Known() || none.LookedKm != 0 || none.Needed != leastArrivals || (&Risk{}).atRisk().Share.Known() {
		t.Errorf("nothing looked at: %+v", none)
	}
}

// Each kind of new stand by hand, in the order in which the reasons count.
func TestKindsOfNewStands(t *testing.T) {
	c := creek(t)
	c.add(t, 2026, 1, map[int]int{2: 3, 12: 3}, 1)
	b1 := c.add(t, 2026, 2, map[int]int{2: 3, 12: 3}, 1)
	b0 := &c.Batches[0]
	b0.Records = []survey.Record{{Notes: "", Position: orb.Point{10, -36.001}, PatchArea: 3, Cover: 60}}
	b0.Known = []lineage.Known{{Stand: stand.Stand{ID: "old", Members: []int32{0}}}}
	for _, one := range []struct {
		id     string
		metres float64 // down the creek; below 0 for off the water
		tall   float64
		near   bool
		absent bool
	}{
		{"a-hit", 625, math.NaN(), false, false}, {"b-miss", 125, 4, false, false}, {"c-unseen", 325, 1, false, false}, {"d-tall", 625, 4.1, false, false},
		{"e-clonal", 625, 9, true, false}, {"f-upland", -1, 9, true, false}, {"g-gone", 625, 1, false, true}, {"h-known", 625, 1, false, false},
	} {
		at := orb.Point{10.01, -36 - one.metres/110957}
		if one.near {
			at = orb.Point{10, -36.001}
		}
		m := aquatic.Membership{}
		if one.metres >= 0 {
			m.InZone, m.Place = true, flow.Place{Offset: geo.Meters(one.metres)}
		}
		b1.Records = append(b1.Records, survey.Record{Notes: "", Position: at, PatchArea: 3, Cover: 60})
		b1.Known = append(b1.Known, lineage.Known{Stand: stand.Stand{ID: one.id, Center: at, StemHeight: geo.Meters(one.tall), Members: []int32{int32(len(b1.Known))}}, Absent: one.absent})
		b1.members = append(b1.members, m)
		change := string(lineage.New)
		if one.id == "h-known" {
			change = string(lineage.Merged)
		}
		b1.Became = append(b1.Became, earlier.Became{StandID: one.id, Change: change})
	}
	b1.Became = append(b1.Became, earlier.Became{StandID: "x-elsewhere", Change: string(lineage.New)})
	looks := c.looks()
	got := map[string]Kind{}
	for _, one := range c.newStands(looks, DefaultOptions()) {
		got[one.StandID] = one.Kind
		if one.Kind.Counts() != (one.StandID == "a-hit" || one.StandID == "b-miss") {
			t.Errorf("%s counts: %v", one.StandID, one.Kind.Counts())
		}
		if one.StandID == "a-hit" {
			if one.Stream != "c" || one.Water != "Creek" || math.Abs(float64(one.RiverKm-0.375)) > 1e-9 || one.batch != 1 || looks[one.Look].cell != 12 || one.Quarter != b1.Quarter {
				t.Errorf("%+v", one)
			}
		}
		if one.StandID == "f-upland" && (!math.IsNaN(float64(one.RiverKm)) || one.Stream != "" || one.Look != -1) {
			t.Errorf("%+v", one)
		}
	}
	want := map[string]Kind{"a-hit": Hit, "b-miss": Miss, "c-unseen": Unseen, "d-tall": TooTall, "e-clonal": Clonal, "f-upland": Upland}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("kinds (-want +got):\n%s", diff)
	}
}

// By hand: pieces from 90 to 160 m and from 10 to 20 m of a stream in stretches of 100 m, the nearest
// first.
func TestStretchesOfPieces(t *testing.T) {
	c := creek(t)
	s := stretch.DefaultSettings()
	s.Length = 0.1
	c.Grid = stretch.NewGrid(c.Net, s)
	got := c.stretchesOf([]flow.Piece{{From: 90, To: 160}, {From: 10, To: 20}})
	if !slices.Equal(got, []string{"c/2", "c/1"}) {
		t.Errorf("%v", got)
	}
}

// Histories by hand. A look of part of a stand, and one of nobody, are left out; a second look of one
// day too. A stand that merges ends, and so does the one it was before. Work of a day on two stands is
// divided, and two jobs of a day are one visit.
func TestHistoriesByHand(t *testing.T) {
	q := func(i int) survey.Quarter { return survey.Quarter{Year: 2026, Number: int8(i + 1)} }
	rules, err := settings.Default().Stages()
	if err != nil {
		t.Fatal(err)
	}
	acre := geo.Acres(1).SquareMeters()
	record := func(area geo.SquareMeters, status survey.Status) survey.Record {
		return survey.Record{Notes: "", PatchArea: area, Cover: 60, Status: status}
	}
	c := &Chain{}
	for i := range 3 {
		b := Batch{Rules: rules, Batch: &earlier.Batch{Quarter: q(i)}}
		b.Records = []survey.Record{record(acre, survey.Untreated), record(acre/2, survey.Treated), record(acre/2, survey.StandingDead), record(0, survey.Resprout), record(acre, survey.Untreated)}
		b.From = slices.Repeat([]survey.Quarter{q(i)}, 5)
		b.Known = []lineage.Known{
			{Stand: stand.Stand{ID: "a", Members: []int32{0, 1, 2}, Infested: acre, Status: survey.Untreated}},
			{Stand: stand.Stand{ID: "b", Members: []int32{3, 4}, Infested: 2 * acre}}, {Stand: stand.Stand{ID: "c"}, Absent: true}, {Stand: stand.Stand{ID: "d", Members: []int32{4}, Infested: acre}},
			{Stand: stand.Stand{ID: "e"}, Absent: true}, // a row says that it was found: what the batch holds counts
		}
		b.members = []aquatic.Membership{{InZone: i == 1}, {}, {}, {}, {}}
		day := on("2026-01-15").AddDate(0, 3*i, 0)
		b.Followup = []followup.Row{
			{StandID: "a", Look: followup.Found, LastLook: day}, {StandID: "b", Look: followup.Found, LastLook: day}, {StandID: "c", Look: followup.NotFound, LastLook: day},
			{StandID: "d", Look: followup.Found, LastLook: on("2026-01-15")}, {StandID: "x", Look: followup.Found, LastLook: day},
			{StandID: "e", Look: followup.Found, LastLook: day},
		}
		c.Batches = append(c.Batches, b)
	}
	c.Batches[1].From[4] = q(0) // b and d are carried in part the second time, and then b merges
	c.Batches[2].Became = []earlier.Became{{StandID: "b", Previous: "z", Change: string(lineage.Merged)}, {StandID: "a", Change: "continued"}}
	c.Batches[2].Followup[2].Look = followup.Nobody
	c.Batches[1].Followup[2].LastLook = time.Time{}
	job := func(day string, hours, acres float64, stands ...string) result.Treatment {
		return result.Treatment{Told: result.Place{Stands: stands}, Treatment: treatment.Treatment{Date: on(day), Method: " Foliar  Spray", TreatedAcres: acres, FormulationClass: "A",
			Application: treatment.Application{Applicator: "Crew", Hours: hours}}}
	}
	c.Batches[2].Treatments = []result.Treatment{job("2026-05-02", 6, 1, "a", "b"), job("2026-05-01", 8, 2, "a", "gone"), job("2026-05-01", 1, 3, "a")}

	all := c.histories()
	var ids []string
	for _, h := range all {
		ids = append(ids, h.id)
	}
	if !slices.Equal(ids, []string{"a", "b", "c", "d", "e"}) {
		t.Fatalf("histories of %v", ids)
	}
	a, b := all[0], all[1]
	if len(a.sights) != 3 || !a.zone || b.zone || len(b.sights) != 1 || len(all[2].sights) != 1 || len(all[3].sights) != 1 {
		t.Errorf("looks: %d of a, %d of b, %d of c, %d of d; zones %v %v", len(a.sights), len(b.sights), len(all[2].sights), len(all[3].sights), a.zone, b.zone)
	}
	// two acres of patches on one of ground: each counts half
	want := sight{day: on("2026-01-15"), found: true, live: 0.5, treated: 0.25, other: 0.25, status: survey.Untreated, size: 2, counted: 3}
	if diff := cmp.Diff(want, a.sights[0], cmp.AllowUnexported(sight{}), cmp.Comparer(func(a, b geo.Acres) bool { return math.Abs(float64(a-b)) <= 1e-12 })); diff != "" {
		t.Errorf("a look at a (-want +got):\n%s", diff)
	}
	if s := b.sights[0]; s.guessed != 1 || s.counted != 1 || math.Abs(float64(s.live-2)) > 1e-12 || math.Abs(float64(s.size-1)) > 1e-12 {
		t.Errorf("a look at b: %+v", s)
	}
	if s := all[2].sights[0]; s.found || s.live != 0 || !s.day.Equal(on("2026-01-15")) {
		t.Errorf("a look for c: %+v", s)
	}
	if e := all[4]; len(e.sights) != 3 || e.sights[0].found || e.sights[2].found {
		t.Errorf("looks for e: %+v", e.sights)
	}
	wantVisits := []visit{{on("2026-05-01"), "foliar spray", "a", "crew", 5, 4}, {on("2026-05-02"), "foliar spray", "a", "crew", 3, 0.5}}
	if diff := cmp.Diff(wantVisits, a.visits, cmp.AllowUnexported(visit{})); diff != "" {
		t.Errorf("work on a (-want +got):\n%s", diff)
	}
	if got := a.visits[0].cluster(); got != "crew 2026-05-01" {
		t.Errorf("cluster %q", got)
	}
}
